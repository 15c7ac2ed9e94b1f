import type { Migration } from './migration.ts';
import { firstShape } from './v1-first-shape.ts';
import { reachTables } from './v2-reach.ts';
import { bellsCarried } from './v3-bells-carried.ts';

/** All steps, in order. A step that has been released is never edited: write the next one. */
export const migrations: readonly Migration[] = [firstShape, reachTables, bellsCarried];
