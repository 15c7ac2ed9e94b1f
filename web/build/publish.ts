import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { outlived, readReleases, withRelease } from './releases.ts';

const ASSETS = 'assets';
const MANIFEST = 'releases.json';
/** It lists the files of the pages, which must be in place when it is looked at. */
const WORKER = 'sw.js';
/** Its age tells whether the pages are older than their sources: whoever was interrupted before it builds again. */
const LAST = 'index.html';
const BUILDING = '.building-';

/** Where a build writes before anything of it is served: inside the folder, so that the last steps are renames. */
export function buildingFolder(pages: string): string {
  return join(pages, `${BUILDING}${process.pid}`);
}

/**
 * Puts a finished build in place, in an order in which no page is ever served whose files are not there: assets under
 * their hashed names first, then the pages, each in one step, and only then are the assets of older releases taken away.
 */
export function publish(built: string, pages: string): void {
  mkdirSync(join(pages, ASSETS), { recursive: true });
  const assets = readdirSync(join(built, ASSETS));
  for (const name of assets) place(join(built, ASSETS, name), join(pages, ASSETS, name));
  const pagesFirst = filesIn(built).filter((name) => ![WORKER, LAST].includes(name) && !name.startsWith(`${ASSETS}/`));
  const before = readReleases(textOf(join(pages, MANIFEST)) ?? unwritten(pages, assets));
  const releases = withRelease(
    before,
    assets.map((name) => `${ASSETS}/${name}`),
  );
  for (const name of [...pagesFirst, WORKER]) place(join(built, name), join(pages, name));
  writeFileSync(join(pages, MANIFEST), `${JSON.stringify(releases)}\n`);
  place(join(built, LAST), join(pages, LAST));
  const present = readdirSync(join(pages, ASSETS)).map((name) => `${ASSETS}/${name}`);
  for (const file of outlived(releases, present)) rmSync(join(pages, file), { force: true });
  rmSync(built, { recursive: true, force: true });
}

/** What builds that were interrupted left behind. One that still runs is left alone. */
export function clearAbandoned(pages: string): void {
  if (!existsSync(pages)) return;
  for (const name of readdirSync(pages)) {
    if (name.startsWith(BUILDING) && !runs(Number(name.slice(BUILDING.length)))) {
      rmSync(join(pages, name), { recursive: true, force: true });
    }
  }
}

/** Assets that lie there from a build that wrote no list count as the release before. */
function unwritten(pages: string, ours: readonly string[]): string {
  const files = readdirSync(join(pages, ASSETS))
    .filter((name) => !ours.includes(name))
    .map((name) => `${ASSETS}/${name}`);
  return JSON.stringify({ releases: files.length === 0 ? [] : [{ files }] });
}

/** Whole or not at all: whoever reads meanwhile gets the file of before. */
function place(from: string, to: string): void {
  mkdirSync(dirname(to), { recursive: true });
  const beside = `${to}.new`;
  copyFileSync(from, beside);
  renameSync(beside, to);
}

function filesIn(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1));
}

function textOf(file: string): string | null {
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
