/** Which device this is and who holds it, for a worker that has to subscribe anew while no page is open. */
export interface Holder {
  readonly device: string;
  readonly person: string;
}

type Caches = Pick<CacheStorage, 'open' | 'delete'>;

/** Beside the shell's own; a worker has no localStorage. */
const NAME = 'basinbell-holder';
const KEY = '/holder';

/** Null forgets it. Where nothing can be kept, only an open page subscribes anew. */
export async function keepHolder(caches: Caches, holder: Holder | null): Promise<void> {
  try {
    if (holder === null) await caches.delete(NAME);
    else await (await caches.open(NAME)).put(KEY, new Response(JSON.stringify(holder)));
  } catch {
    // As said above.
  }
}

export async function keptHolder(caches: Caches): Promise<Holder | null> {
  try {
    const kept = await (await caches.open(NAME)).match(KEY);
    if (kept === undefined) return null;
    const { device, person } = (await kept.json()) as Partial<Holder>;
    return typeof device === 'string' && typeof person === 'string' ? { device, person } : null;
  } catch {
    return null;
  }
}
