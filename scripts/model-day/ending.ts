import { SECOND } from '../../core/time.ts';

/**
 * Aborts when this process is to end: by signal, or because whoever started it is gone without a word. A parent with a
 * channel is missed at once, any other when this process has been handed to another.
 */
export function ending(): AbortSignal {
  const over = new AbortController();
  const end = (): void => over.abort();
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, end);
  process.once('disconnect', end);
  const parent = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid !== parent) end();
  }, SECOND);
  watch.unref();
  return over.signal;
}
