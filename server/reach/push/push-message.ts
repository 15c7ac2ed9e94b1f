import { createHash } from 'node:crypto';
import { certainClose, windowOf } from '../../../core/exposure/window.ts';
import { neutralizerWindow } from '../../../core/exposure/finishing.ts';
import type { Floor } from '../../../core/floor.ts';
import type { EpochMs } from '../../../core/time.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import { wordKey } from '../../../core/words.ts';
import { pushTexts, type PushTexts, type PushTimes } from '../../../shared/push-texts.ts';
import type { PushMessage } from '../../../shared/push.ts';
import type { StandingBell } from './due-pushes.ts';

/** Where a touch on a notification leads: what rings stands there at once. */
const PATH = '/pocket';

export interface Wrapping {
  readonly tag: string;
  readonly receipt: string | null;
  readonly replaces: string | null;
  /** The address that phones know this server by; a browser that shows the push without the worker goes there. */
  readonly home: string;
}

/** At most 32 characters of base64url, as a Topic wants (RFC 8030 §5.4); says nothing to whoever carries it. */
export function nameOfBell(key: string): string {
  return createHash('sha256').update(key).digest('base64url').slice(0, 22);
}

/** A fresh one for each round: one with a tag that is shown already would not sound. */
export function tagOf({ key }: StandingBell, roundAt: EpochMs): string {
  return `${nameOfBell(key)}-${roundAt.toString(36)}`;
}

export function bellMessage(standing: StandingBell, floor: Floor, now: EpochMs, wrapping: Wrapping): PushMessage {
  const { lang, texts } = pushTexts(floor.salon.language);
  const { bell } = standing;
  const title = at(placeOf(standing, floor), texts.deeds[bell.kind], texts);
  const times = timesFor(standing, now);
  const said = texts.times({ from: clock(times.from, floor), by: clock(times.by, floor) });
  const body = said === null ? texts.levels[bell.level] : `${texts.levels[bell.level]} · ${said}`;
  return wrapped({ lang, dir: texts.dir, title, body, silent: false }, wrapping);
}

/** Seen, so that it is no silent push, and unheard: nobody has to do anything. */
export function endedMessage(standing: StandingBell, floor: Floor, wrapping: Wrapping): PushMessage {
  const { lang, texts } = pushTexts(floor.salon.language);
  const title = at(placeOf(standing, floor), texts.ended, texts);
  return wrapped({ lang, dir: texts.dir, title, body: texts.endedBody, silent: true }, wrapping);
}

export function testMessage(floor: Floor, wrapping: Wrapping): PushMessage {
  const { lang, texts } = pushTexts(floor.salon.language);
  return wrapped({ lang, dir: texts.dir, ...texts.test, silent: false }, wrapping);
}

type Said = Pick<PushMessage['notification'], 'title' | 'body' | 'lang' | 'dir' | 'silent'>;

function wrapped(said: Said, { tag, receipt, replaces, home }: Wrapping): PushMessage {
  const data = { receipt, path: PATH, replaces };
  const navigate = new URL(PATH, home).href;
  return { web_push: 8030, mutable: true, notification: { ...said, navigate, tag, mutable: true, data } };
}

function at(place: string | null, deed: string, texts: PushTexts): string {
  return place === null ? deed : texts.at(place, deed);
}

function placeOf({ meant, visit }: StandingBell, { words }: Floor): string | null {
  const number = visit?.chair ?? meant.chair;
  return number === null ? null : (words[wordKey.place(number)] ?? String(number));
}

/** Only bells of a window name its times, and an end only where it is certain. */
function timesFor({ bell, visit }: StandingBell, now: EpochMs): { from: EpochMs | null; by: EpochMs | null } {
  const none = { from: null, by: null };
  const pass = visit === null ? null : currentPass(visit);
  if (visit === null || pass === null) return none;
  if (bell.cause === 'neutralizer') {
    const window = neutralizerWindow(pass);
    return window === null ? none : { from: later(window.opensAt, now), by: window.closesAt };
  }
  if (bell.cause !== 'off') return none;
  const window = windowOf(pass, now);
  const from = window === null || window.expected || window.roomMs < 0 ? null : later(window.opensAt, now);
  return { from, by: certainClose(pass) };
}

const later = (at: EpochMs, now: EpochMs): EpochMs | null => (at > now ? at : null);

const formatters = new Map<string, Intl.DateTimeFormat>();

/** As on the screens: the salon's zone, language and hours, of the time that people are shown (T2). */
function clock(time: EpochMs | null, { salon }: Floor): PushTimes['by'] {
  if (time === null) return null;
  const { language, zone, hourCycle, civilOffsetMs } = salon;
  const name = `${language}|${zone}|${hourCycle}`;
  let formatter = formatters.get(name);
  if (formatter === undefined) {
    const hour = hourCycle === 'h23' ? '2-digit' : 'numeric';
    formatter = new Intl.DateTimeFormat(language, { hour, minute: '2-digit', hourCycle, timeZone: zone });
    formatters.set(name, formatter);
  }
  return formatter.format(time + civilOffsetMs);
}
