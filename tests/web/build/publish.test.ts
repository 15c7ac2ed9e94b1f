// @vitest-environment node
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { buildingFolder, clearAbandoned, publish } from '../../../web/build/publish.ts';
import { outlived, readReleases, withRelease } from '../../../web/build/releases.ts';
import { shellOf } from '../../../web/build/service-worker.ts';

const scratch = mkdtempSync(join(tmpdir(), 'basinbell-publish-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));
let pages = '';
beforeEach(() => (pages = mkdtempSync(join(scratch, 'pages-'))));

function built(...files: readonly string[]): string {
  const folder = buildingFolder(pages);
  for (const file of ['index.html', 'sw.js', ...files]) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), `of ${files.join()}`);
  }
  return folder;
}
const assets = () => readdirSync(join(pages, 'assets')).sort();

describe('a release', () => {
  it('[R8] keeps the files of the one before, and takes older ones away', () => {
    publish(built('wall.html', 'assets/wall-1.js', 'assets/both.css'), pages);
    publish(built('wall.html', 'assets/wall-2.js', 'assets/both.css'), pages);
    expect(assets()).toEqual(['both.css', 'wall-1.js', 'wall-2.js']);
    publish(built('wall.html', 'assets/wall-3.js'), pages);
    expect(assets()).toEqual(['both.css', 'wall-2.js', 'wall-3.js']);
    publish(built('wall.html', 'assets/wall-4.js'), pages);
    expect(assets()).toEqual(['wall-3.js', 'wall-4.js']);
    expect(readdirSync(pages).sort()).toEqual(['assets', 'index.html', 'releases.json', 'sw.js', 'wall.html']);
  });

  it('[R8] built again with the same files is no new one', () => {
    publish(built('assets/wall-1.js'), pages);
    for (const _again of [1, 2, 3]) publish(built('assets/wall-2.js'), pages);
    expect(assets()).toEqual(['wall-1.js', 'wall-2.js']);
  });

  it('[R8] files of a build that wrote no list count as the one before', () => {
    mkdirSync(join(pages, 'assets'));
    writeFileSync(join(pages, 'assets', 'wall-0.js'), '');
    publish(built('assets/wall-1.js'), pages);
    expect(assets()).toEqual(['wall-0.js', 'wall-1.js']);
    publish(built('assets/wall-2.js'), pages);
    expect(assets()).toEqual(['wall-1.js', 'wall-2.js']);
  });

  it('[R8] interrupted before it was whole changes nothing, and is cleared away by the next', () => {
    publish(built('wall.html', 'assets/wall-1.js'), pages);
    const before = readFileSync(join(pages, 'wall.html'), 'utf8');
    // The highest number a process can have here is below this (kernel.pid_max is at most 2²²).
    const left = join(pages, '.building-9999999');
    mkdirSync(left);
    writeFileSync(join(left, 'wall.html'), 'half');
    const running = built('wall.html', 'assets/wall-2.js');
    clearAbandoned(pages);
    expect(readFileSync(join(pages, 'wall.html'), 'utf8')).toBe(before);
    expect(readdirSync(pages).filter((name) => name.startsWith('.'))).toEqual([running.slice(pages.length + 1)]);
  });

  it('[R8] writes the first page last: its age says whether all of it is in place', () => {
    publish(built('wall.html', 'assets/wall-1.js'), pages);
    utimesSync(join(pages, 'index.html'), 1, 1);
    publish(built('wall.html', 'assets/wall-1.js'), pages);
    const age = (name: string): number => statSync(join(pages, name)).mtimeMs;
    for (const name of ['wall.html', 'sw.js', 'releases.json', 'assets/wall-1.js']) {
      expect(age('index.html')).toBeGreaterThanOrEqual(age(name));
    }
  });

  it('[R8] a list that cannot be read is as good as none', () => {
    for (const text of [null, '', '{', '[]', '{"releases":3}', '{"releases":[{}]}']) {
      expect(readReleases(text)).toEqual({ releases: [] });
    }
    const two = withRelease(withRelease({ releases: [] }, ['a']), ['b', 'c']);
    expect(readReleases(JSON.stringify(two))).toEqual(two);
    expect(outlived(two, ['a', 'b', 'x'])).toEqual(['x']);
  });
});

describe('the list of the service worker', () => {
  const page = (name: string, ...files: readonly string[]) => {
    const source = files.map((file) => `<link href="/assets/${file}">`).join('');
    return { type: 'asset' as const, fileName: `${name}.html`, source };
  };
  const file = (name: string, text = '') => {
    return {
      type: 'chunk' as const,
      fileName: `assets/${name}`,
      ...(name.endsWith('.js') ? { code: text } : { source: text }),
    };
  };
  const bundle = [
    page('wall', 'wall-1.js'),
    page('chair', 'chair-1.js'),
    page('pocket', 'chair-1.js'),
    page('salon', 'salon-1.js'),
    file('wall-1.js', 'import"./both-1.js"'),
    file('chair-1.js'),
    file('both-1.js'),
    file('salon-1.js', 'import"./both-1.js"'),
    file('look-1.css', 'url(/assets/face-1.woff2)'),
    file('face-1.woff2'),
  ];

  it('[R8] names what the three screens need, and nothing of the set-up', () => {
    expect(shellOf(bundle).files).toEqual([
      '/icon.svg',
      '/assets/both-1.js',
      '/assets/chair-1.js',
      '/assets/wall-1.js',
    ]);
    const styled = [...bundle.slice(1), page('wall', 'wall-1.js', 'look-1.css')];
    expect(shellOf(styled).files).toContain('/assets/face-1.woff2');
  });

  it('[R8] is another version whenever a page or a file is another', () => {
    const { version } = shellOf(bundle);
    expect(shellOf([...bundle].reverse()).version).toBe(version);
    expect(shellOf([...bundle.slice(1), page('wall', 'wall-1.js', 'look-1.css')]).version).not.toBe(version);
    expect(() => shellOf(bundle.slice(1))).toThrow('not built');
  });
});
