/** How this salon writes its hours; `zone` is an IANA name. */
export interface ClockStyle {
  readonly zone: string;
  readonly locale: string;
  readonly hours: 12 | 24;
}

const formatters = new Map<string, Intl.DateTimeFormat>();

/** Making an Intl formatter costs about a thousand times as much as using one. */
function formatter(style: ClockStyle, name: string, parts: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${name}|${style.locale}|${style.zone}|${style.hours}`;
  let made = formatters.get(key);
  if (!made) {
    const hourCycle = style.hours === 24 ? 'h23' : 'h12';
    made = new Intl.DateTimeFormat(style.locale, { ...parts, hourCycle, timeZone: style.zone });
    formatters.set(key, made);
  }
  return made;
}

/** `14:43` or `2:43 pm` of a civil instant (T2: add the civil offset before asking). */
export function clockTime(civilAt: number, style: ClockStyle): string {
  const hour = style.hours === 24 ? '2-digit' : 'numeric';
  return formatter(style, 'minute', { hour, minute: '2-digit' }).format(civilAt);
}

/** With seconds, for the list of what was done. */
export function clockTimeToSecond(civilAt: number, style: ClockStyle): string {
  const hour = style.hours === 24 ? '2-digit' : 'numeric';
  return formatter(style, 'second', { hour, minute: '2-digit', second: '2-digit' }).format(civilAt);
}

export function dayAndDate(civilAt: number, style: ClockStyle): string {
  return formatter(style, 'day', { weekday: 'long', day: 'numeric', month: 'long' }).format(civilAt);
}
