import type { Readiness, Snapshot } from '../../../shared/wire.ts';
import type { ServerProcess } from '../../../tests/support/server-process.ts';

/** What people see of how it stands with the disk. */
export interface SeenOfDisk {
  readonly unsaved: boolean;
  readonly damaged: boolean;
  /** What the heartbeat tells every screen, in short. */
  readonly told: string;
  readonly floorBells: string;
  readonly ready: string;
  readonly snapshot: Snapshot;
}

export async function seenOf(server: ServerProcess): Promise<SeenOfDisk> {
  const response = await fetch(`${server.address}/readyz`);
  const { storage } = (await response.json()) as Readiness;
  const snapshot = await server.floor();
  const bells = snapshot.entities['floor-bells'];
  const floorBells =
    bells?.kind === 'floor-bells' ? bells.facts.bells.map(({ kind, level }) => `${kind} ${level}`).join() : '';
  const unsaved = floorBells.includes('not-saved');
  const damaged = storage.damageFoundAt !== null;
  const told = [
    storage.trouble === null ? 'no trouble' : `trouble ${storage.trouble}`,
    ...(unsaved ? ['not saved'] : []),
    ...(damaged ? ['damage found'] : []),
  ].join(', ');
  return { unsaved, damaged, told, floorBells, ready: String(response.status), snapshot };
}
