import type { Floor } from '../../../core/floor.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { HookDocument } from '../../../shared/hooks.ts';
import { bellCounts, type StepTold } from './steps-told.ts';

/** RFC 3339 in UTC, of the time that people are shown (T2). */
const written = (at: EpochMs, { salon }: Floor): string => new Date(at + salon.civilOffsetMs).toISOString();

/** The document of one step. */
export function documentOf({ step, at, why, cause, subject, bell }: StepTold, floor: Floor): HookDocument {
  return {
    type: `bell.${step}`,
    timestamp: written(at, floor),
    data: {
      step,
      why,
      kind: bell?.kind ?? null,
      level: bell?.level ?? null,
      cause,
      episode: bell?.episode ?? null,
      circle: bell?.circle ?? null,
      subject: { of: subject.chair === null ? 'floor' : 'chair', ...subject },
      dueAt: bell === null ? null : written(bell.dueAt, floor),
      rungAt: bell === null ? null : written(bell.rungAt, floor),
    },
    ...bellCounts(floor),
  };
}

/** A document about no bell: a test, or what stands as the server starts. */
export function documentAbout(step: 'test' | 'standing', why: string, at: EpochMs, floor: Floor): HookDocument {
  return {
    type: `bell.${step}`,
    timestamp: written(at, floor),
    data: {
      step,
      why,
      kind: null,
      level: null,
      cause: null,
      episode: null,
      circle: null,
      subject: { of: 'floor', chair: null, label: null },
      dueAt: null,
      rungAt: null,
    },
    ...bellCounts(floor),
  };
}
