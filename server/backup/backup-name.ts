import { Temporal } from 'temporal-polyfill';
import type { EpochMs } from '../../core/time.ts';

/** A backup by its name: names sort by time, tell people the salon's own clock, and how far the log had come. */
export interface NamedBackup {
  readonly name: string;
  /** Wall clock, epoch ms; whole seconds. */
  readonly at: EpochMs;
  /** Last place in the log that it holds. */
  readonly revision: number;
}

const PATTERN = /^floor-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z-salon-\d{4}-r(\d+)\.db$/;

/** Such as `floor-20261125T130000Z-salon-1400-r1234.db`: UTC first, then the salon's hour and minute. */
export function backupName(at: EpochMs, zone: string, revision: number): string {
  const instant = Temporal.Instant.fromEpochMilliseconds(at);
  const utc = instant.round({ smallestUnit: 'second', roundingMode: 'floor' }).toString().replaceAll(/[-:]/g, '');
  const local = instant.toZonedDateTimeISO(zone).toPlainTime().toString().slice(0, 5).replace(':', '');
  return `floor-${utc}-salon-${local}-r${revision}.db`;
}

/** Null for whatever else lies in the folder: that is not ours to count or to delete. */
export function namedBackup(name: string): NamedBackup | null {
  const [, ...parts] = PATTERN.exec(name) ?? [];
  const [year, month, day, hour, minute, second, revision] = parts.map(Number);
  if (year === undefined || month === undefined || revision === undefined) return null;
  return { name, at: Date.UTC(year, month - 1, day, hour, minute, second), revision };
}
