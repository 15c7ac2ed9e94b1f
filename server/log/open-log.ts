import { pino, type DestinationStream, type LogFn, type Logger, type LoggerOptions } from 'pino';
import type { Timers } from '../engine/timers.ts';
import { RepeatLimit } from './repeat-limit.ts';

/** Refusals, faults, start and end, one JSON line each, on the standard output; repeats are collapsed for all of it. */
export function openLog(level: string, timers: Timers, destination?: DestinationStream): Logger {
  const limit = new RepeatLimit(timers);
  const options: LoggerOptions = {
    level,
    base: null,
    timestamp: pino.stdTimeFunctions.isoTime,
    hooks: {
      logMethod(args, method, severity) {
        const again = (times: number): void => method.apply(this, withTimes(args, times));
        if (limit.admits(`${severity} ${kindOf(args)}`, again)) method.apply(this, args);
      },
    },
  };
  return destination === undefined ? pino(options) : pino(options, destination);
}

type Args = Parameters<LogFn>;

/** What is the same: the sentence, and the code of the fault; not the ids that come along. */
function kindOf(args: Args): string {
  const [first, second] = args as readonly unknown[];
  if (typeof first === 'string') return first;
  const fault = first instanceof Error ? first : isRecord(first) && first['err'] instanceof Error ? first['err'] : null;
  const code = fault !== null && 'code' in fault ? String(fault.code) : '';
  return `${typeof second === 'string' ? second : (fault?.message ?? '')} ${code}`;
}

/** The last of them, with how often it was said within the last minute. */
function withTimes(args: Args, times: number): Args {
  const [first, ...rest] = args as readonly unknown[];
  const timed =
    typeof first === 'string'
      ? [{ times }, first, ...rest]
      : [{ ...(first instanceof Error ? { err: first } : isRecord(first) ? first : {}), times }, ...rest];
  return timed as unknown as Args;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
