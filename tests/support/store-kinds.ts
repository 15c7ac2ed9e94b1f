import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { MemoryStore } from '../../server/store/memory-store.ts';
import type { FileOptions } from '../../server/store/open-file.ts';
import type { Projected } from '../../server/store/projections/projected.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import type { Store } from '../../server/store/store.ts';

/** A store that can be looked into and computed anew. */
export type CheckedStore = Store & { projected(): Projected; rebuild(): void };

export interface OpenedKind {
  readonly store: CheckedStore;
  /** The same data as a later start finds it. */
  reopen(): CheckedStore;
  /** Closes it and leaves nothing behind. */
  end(): void;
}

/** A new folder for data files, with what opens and clears it. */
export function dataFolder(): {
  folder: string;
  open: (testOnly?: FileOptions['testOnly']) => SqliteStore;
  end: () => void;
} {
  const folder = mkdtempSync(join(tmpdir(), 'floor-'));
  const opened: SqliteStore[] = [];
  return {
    folder,
    open: (testOnly) => {
      const store = new SqliteStore(testOnly === undefined ? { folder } : { folder, testOnly });
      opened.push(store);
      return store;
    },
    end: () => {
      for (const store of opened) store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export const storeKinds: readonly { readonly kind: string; readonly open: () => OpenedKind }[] = [
  {
    kind: 'in memory',
    open: () => {
      const store = new MemoryStore();
      return { store, reopen: () => store, end: () => store.close() };
    },
  },
  {
    kind: 'SQLite',
    open: () => {
      const data = dataFolder();
      const store = data.open();
      return {
        store,
        reopen: () => {
          store.close();
          return data.open();
        },
        end: data.end,
      };
    },
  },
];
