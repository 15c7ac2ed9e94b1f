import type { CDPSession } from '@playwright/test';

/** What the page's scripts hold once everything else is collected, bytes. */
export async function held(heap: CDPSession): Promise<number> {
  await heap.send('HeapProfiler.collectGarbage');
  await heap.send('HeapProfiler.collectGarbage');
  return (await heap.send('Runtime.getHeapUsage')).usedSize;
}
