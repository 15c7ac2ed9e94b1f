import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { configOf } from '../../../server/config.ts';

const app = fileURLToPath(new URL('../../..', import.meta.url)).replace(/\/$/, '');
const script = join(app, 'scripts/install-kiosk');
const fresh = (): string => mkdtempSync(join(tmpdir(), 'basinbell-box-'));

function install(...args: readonly string[]): { readonly code: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync('bash', [script, ...args], { encoding: 'utf8' });
  return { code: status, said: stdout + stderr };
}

/** Every file below, with its content and whether it can be started. */
function tree(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return Object.fromEntries(
    files.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const mode = (statSync(path).mode & 0o777).toString(8);
      return [relative(folder, path), `${mode} ${readFileSync(path, 'utf8')}`];
    }),
  );
}

/** Keys of a unit or a drop-in, by section; a key that comes again has several values. */
function keys(root: string, path: string): Record<string, string[]> {
  const found: Record<string, string[]> = {};
  for (const line of readFileSync(join(root, path), 'utf8').split('\n')) {
    if (line === '' || line.startsWith('#') || line.startsWith('[')) continue;
    const [, key = '', value = ''] = /^([A-Za-z]+)=(.*)$/.exec(line) ?? [];
    expect(key, line).not.toBe('');
    (found[key] ??= []).push(value);
  }
  return found;
}

const SERVER_FILES = [
  'etc/basinbell/basinbell.env',
  'etc/systemd/system/basinbell.service',
  'etc/sysusers.d/basinbell.conf',
  'etc/tmpfiles.d/basinbell.conf',
];
const COMMON_FILES = ['journald', 'logind', 'sleep', 'system'].map(
  (name) => `etc/systemd/${name}.conf.d/basinbell.conf`,
);

describe('install-kiosk', () => {
  it('[R8] writes the files of server and wall, fills in every path, and changes nothing the second time', () => {
    const root = fresh();
    const options = ['--root', root, '--data', '/srv/floor', '--backups', '/mnt/stick', '--port', '4700'];
    const first = install(...options);
    expect(first.said).toContain('Done.');
    expect(first.code).toBe(0);
    const written = tree(root);
    expect(Object.keys(written)).toEqual(expect.arrayContaining([...SERVER_FILES, ...COMMON_FILES]));
    for (const [path, content] of Object.entries(written)) {
      expect(content, path).not.toMatch(/@[A-Z]+@/);
      expect(content.startsWith(path.startsWith('usr/') ? '755 #!/bin/bash' : '644 '), path).toBe(true);
    }
    expect(written['etc/systemd/system/basinbell.service']).toContain(`WorkingDirectory=${app}\n`);
    expect(written['etc/basinbell/wall.env']).toContain('BASINBELL_SERVER=http://localhost:4700\n');
    const second = install(...options);
    expect(second.code).toBe(0);
    expect(second.said).not.toContain('written: ');
    expect(tree(root)).toEqual(written);
    expect(install('--root', root, '--data', '/srv/floor').said.match(/written: .*/g)).toHaveLength(3);
  });

  it('[R8] what it writes for the server is understood by the server', () => {
    const root = fresh();
    install('--root', root, '--this-box-only', '--backups', '/mnt/stick');
    const lines = readFileSync(join(root, 'etc/basinbell/basinbell.env'), 'utf8').split('\n');
    const environment = Object.fromEntries(
      lines.filter((line) => line.startsWith('BASINBELL_')).map((line) => line.split('=')),
    ) as Record<string, string>;
    const understood = { port: 4680, lan: false, data: '/var/lib/basinbell', backups: '/mnt/stick' };
    expect(Object.keys(environment)).toHaveLength(4);
    expect(configOf([], environment)).toMatchObject(understood);
  });

  it('[R8] without a backup folder names none, and says that one disk is no backup', () => {
    const root = fresh();
    const { said } = install('--root', root);
    expect(said).toContain('One disk is no backup.');
    expect(tree(root)['etc/basinbell/basinbell.env']).not.toContain('BACKUP');
    expect(keys(root, 'etc/systemd/system/basinbell.service')['ReadWritePaths']).toEqual(['/var/lib/basinbell']);
  });

  it('[R8] makes a box for the server alone, or for the wall of another box', () => {
    const alone = fresh();
    install('--root', alone, '--no-wall');
    expect(Object.keys(tree(alone)).sort()).toEqual([...SERVER_FILES, ...COMMON_FILES].sort());
    const wall = fresh();
    install('--root', wall, '--wall-of', 'http://192.168.1.10:4680/');
    expect(tree(wall)['etc/basinbell/wall.env']).toContain('BASINBELL_SERVER=http://192.168.1.10:4680\n');
    for (const file of SERVER_FILES) expect(existsSync(join(wall, file)), file).toBe(false);
  });

  it('[R8] a dry run names every file and every command and writes nothing', () => {
    const root = join(fresh(), 'box');
    const { code, said } = install('--dry-run', '--root', root, '--backups', '/mnt/stick');
    expect(code).toBe(0);
    expect(existsSync(root)).toBe(false);
    for (const file of [...SERVER_FILES, ...COMMON_FILES]) expect(said).toContain(`would write: ${join(root, file)}`);
    for (const command of [
      'apt-get install',
      'systemd-sysusers',
      'prepare.mjs',
      'systemctl enable basinbell.service',
    ]) {
      expect(said).toMatch(new RegExp(`would run: .*${command}`));
    }
  });

  it('[R8] takes away what it wrote, and nothing else', () => {
    const root = fresh();
    mkdirSync(join(root, 'etc/systemd/system'), { recursive: true });
    writeFileSync(join(root, 'etc/systemd/system/other.service'), '');
    install('--root', root, '--backups', '/mnt/stick');
    const { code, said } = install('--root', root, '--uninstall');
    expect(code).toBe(0);
    expect(said).toContain('the data in /var/lib/basinbell');
    expect(Object.keys(tree(root))).toEqual(['etc/systemd/system/other.service']);
    for (const folder of ['etc/basinbell', 'usr/local/lib/basinbell', 'etc/systemd/system/user-.slice.d']) {
      expect(existsSync(join(root, folder)), folder).toBe(false);
    }
  });

  it.each([
    [['--port', '80'], '--port 80 is not a port'],
    [['--port'], '--port wants a value.'],
    [['--backups', '--no-wall'], '--backups wants a value.'],
    [['--data', '/with space'], '/with space must be a whole path'],
    [['--data', 'data'], 'data must be a whole path'],
    [['--backups', '/mnt/50%'], '/mnt/50% must be a whole path'],
    [['--wall-of', 'box;reboot'], '--wall-of box;reboot is not an address'],
    [['--frobnicate'], '--frobnicate is not known.'],
  ])('[R8] refuses %j in a sentence and writes nothing', (args, sentence) => {
    const root = join(fresh(), 'box');
    const { code, said } = install('--root', root, ...args);
    expect(code).toBe(1);
    expect(said).toContain(sentence);
    expect(existsSync(root)).toBe(false);
  });

  it('[R8] is good bash', () => {
    const own = join(app, 'scripts/kiosk/box/wall/usr/local/lib/basinbell');
    for (const file of [script, join(own, 'wall-screen'), join(own, 'sound-test')]) {
      expect(spawnSync('bash', ['-n', file], { encoding: 'utf8' })).toMatchObject({ status: 0, stderr: '' });
    }
  });
});

describe('the units', () => {
  const root = fresh();
  install('--root', root, '--backups', '/mnt/stick');
  const server = keys(root, 'etc/systemd/system/basinbell.service');
  const wall = keys(root, 'etc/systemd/system/basinbell-wall.service');

  it('[T7] the server is watched by its notices, is started again whatever happens, and is never given up', () => {
    expect(server).toMatchObject({
      Type: ['notify'],
      // systemd-notify is a child of the server.
      NotifyAccess: ['all'],
      Restart: ['always'],
      StartLimitIntervalSec: ['0'],
      User: ['basinbell'],
    });
    expect(Number(server['WatchdogSec']?.[0])).toBeGreaterThanOrEqual(60);
    // The goodbye of the server is cut short after 5 s by itself.
    expect(Number(server['TimeoutStopSec']?.[0])).toBeGreaterThan(5);
  });

  it('[R8] the server writes where the floor and its copies lie, and nowhere else', () => {
    expect(server['ReadWritePaths']).toEqual(['/var/lib/basinbell', '-/mnt/stick']);
    expect(server).toMatchObject({
      ProtectSystem: ['strict'],
      NoNewPrivileges: ['yes'],
      PrivateTmp: ['yes'],
      CapabilityBoundingSet: [''],
    });
    // It reads the boot's id and the uptime below /proc/sys and /proc.
    expect(server).not.toHaveProperty('ProcSubset');
    expect(server).toHaveProperty('MemoryMax');
  });

  it('[R8] the wall is started again whatever happens, and neither waits for nor ends with the server', () => {
    expect(wall).toMatchObject({ Restart: ['always'], StartLimitIntervalSec: ['0'], User: ['basinbell-wall'] });
    for (const key of ['Requires', 'BindsTo', 'PartOf']) expect(wall).not.toHaveProperty(key);
    // Its browser lives in its user's session, out of the service's reach.
    expect(keys(root, 'etc/systemd/system/user-.slice.d/basinbell.conf')).toHaveProperty('MemoryMax');
  });

  it('[R8] the browser shows one page, rings without a touch, and asks nothing after a power cut', () => {
    const flags = readFileSync(join(root, 'usr/local/lib/basinbell/wall-screen'), 'utf8');
    for (const flag of [
      '--kiosk',
      '--user-data-dir="$profile"',
      '--no-first-run',
      '--hide-crash-restore-bubble',
      '--autoplay-policy=no-user-gesture-required',
      '--disable-pinch',
      '--overscroll-history-navigation=0',
      '--disable-component-update',
      '--check-for-update-interval=',
    ]) {
      expect(flags).toContain(flag);
    }
    // What it keeps must survive: the service worker and who this device is.
    expect(flags).not.toContain('--incognito');
    expect(flags).toContain('profile=$HOME/profile');
    expect(flags).toContain('/healthz');
  });

  it('[R8] logs are bounded, of each unit and of the whole box, and the box neither sleeps nor hangs for good', () => {
    for (const unit of [server, wall]) expect(unit).toMatchObject({ LogRateLimitIntervalSec: ['30s'] });
    expect(keys(root, COMMON_FILES[0] ?? '')).toMatchObject({ SystemMaxUse: ['200M'], RuntimeMaxUse: ['64M'] });
    expect(keys(root, COMMON_FILES[2] ?? '')).toMatchObject({ AllowSuspend: ['no'] });
    expect(keys(root, COMMON_FILES[3] ?? '')).toMatchObject({ RuntimeWatchdogSec: ['60s'] });
  });

  it('[R8] sound sinks stay awake, for either WirePlumber', () => {
    const lua = readFileSync(join(root, 'etc/wireplumber/main.lua.d/51-basinbell.lua'), 'utf8');
    const conf = readFileSync(join(root, 'etc/wireplumber/wireplumber.conf.d/51-basinbell.conf'), 'utf8');
    expect(lua).toContain('["session.suspend-timeout-seconds"] = 0');
    expect(conf).toContain('session.suspend-timeout-seconds = 0');
    JSON.parse(readFileSync(join(root, 'etc/chromium/policies/managed/basinbell.json'), 'utf8'));
  });
});
