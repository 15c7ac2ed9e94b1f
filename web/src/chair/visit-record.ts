import type { VisitId } from '../../../core/ids.ts';
import type { VisitRecord } from '../../../shared/wire.ts';

/** All that happened at a head, from the server; null while it cannot be had. */
export async function visitRecord(id: VisitId): Promise<VisitRecord | null> {
  try {
    const response = await fetch(`/api/v1/visits/${encodeURIComponent(id)}`, { signal: AbortSignal.timeout(5_000) });
    return response.ok ? ((await response.json()) as VisitRecord) : null;
  } catch {
    return null;
  }
}
