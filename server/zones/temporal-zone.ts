import { Temporal } from 'temporal-polyfill';
import type { EpochMs, LocalDate, Zone } from '../../core/time.ts';

/** A zone of the IANA table, with civil days of 23, 24, 24.5 or 25 hours as they fall (D1). Throws on an unknown name. */
export class TemporalZone implements Zone {
  readonly name: string;

  constructor(name: string) {
    if (!isZone(name)) throw new RangeError(`not a time zone: ${name}`);
    this.name = name;
  }

  dateOf(at: EpochMs): LocalDate {
    return Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(this.name).toPlainDate().toString();
  }

  /** Without a time of day Temporal gives the day's first instant, also where 00:00 is skipped. */
  startOf(date: LocalDate): EpochMs {
    return Temporal.PlainDate.from(date).toZonedDateTime(this.name).epochMilliseconds;
  }

  addDays(date: LocalDate, days: number): LocalDate {
    return Temporal.PlainDate.from(date).add({ days }).toString();
  }
}

/** Whether it names a zone of the IANA table; a bare offset such as +02:00 has no days of its own and is none. */
export function isZone(name: string): boolean {
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** The machine's own zone, to propose at set-up; UTC where it does not say. */
export function machineZone(): string {
  const name: string | undefined = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  return name !== undefined && isZone(name) ? name : 'UTC';
}
