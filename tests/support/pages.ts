import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildingFolder, publish } from '../../web/build/publish.ts';
import { readReleases } from '../../web/build/releases.ts';

const dist = fileURLToPath(new URL('../../web/dist', import.meta.url));
const screens = ['wall', 'chair', 'pocket'];

/** A folder of pages that a server can be given, begun with the pages as they were built. */
export class Pages {
  readonly folder = mkdtempSync(join(tmpdir(), 'basinbell-pages-'));

  constructor() {
    publish(this.#copyOf(dist), this.folder);
  }

  /** Name of the script that a screen is opened with, in the release that is served. */
  entry(screen: string): string {
    const page = readFileSync(join(this.folder, `${screen}.html`), 'utf8');
    const name = new RegExp(`/assets/(${screen}-[^"]+\\.js)`).exec(page)?.[1];
    if (name === undefined) throw new Error(`no script of ${screen}`);
    return name;
  }

  /** The next release: the screens' entries under other names, as a change in them would bring it. */
  next(name: string): void {
    const built = this.#copyOf(this.folder);
    const names = screens.map((screen) => [this.entry(screen), `${screen}-${name}.js`] as const);
    for (const file of [...screens.map((screen) => `${screen}.html`), 'sw.js']) {
      const text = names.reduce((all, [from, to]) => all.replaceAll(from, to), readFileSync(join(built, file), 'utf8'));
      // The fingerprint of the worker's release is part of its text.
      writeFileSync(join(built, file), text.replace(/version:.[0-9a-z]+./, `version:"${name}"`));
    }
    for (const [from, to] of names) renameSync(join(built, 'assets', from), join(built, 'assets', to));
    publish(built, this.folder);
  }

  /** The newest release of a folder, where a build would lie before it is published here. */
  #copyOf(folder: string): string {
    const built = buildingFolder(this.folder);
    mkdirSync(join(built, 'assets'), { recursive: true });
    for (const name of readdirSync(folder)) {
      if (/\.(html|js|svg)$/.test(name)) cpSync(join(folder, name), join(built, name));
    }
    const [newest] = readReleases(readFileSync(join(folder, 'releases.json'), 'utf8')).releases;
    for (const file of newest?.files ?? []) cpSync(join(folder, file), join(built, file));
    return built;
  }
}
