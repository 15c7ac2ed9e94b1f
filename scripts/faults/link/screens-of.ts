import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser } from '@playwright/test';
import { Device } from '../../../tests/e2e/devices.ts';
import type { ServerProcess } from '../../../tests/support/server-process.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));

/** A real browser; its pages may sound without having been touched first. The long form builds the pages anew. */
export async function browser(short: boolean): Promise<Browser> {
  if (!short || !existsSync(`${root}web/dist/wall.html`)) {
    const built = spawnSync('npm', ['run', '--silent', 'build'], { cwd: root, encoding: 'utf8' });
    if (built.status !== 0) throw new Error(`the pages could not be built: ${built.stderr}`);
  }
  return chromium.launch({
    executablePath: process.env['BASINBELL_CHROMIUM'] ?? '/usr/bin/chromium',
    args: [
      '--disable-gpu',
      '--autoplay-policy=no-user-gesture-required',
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    ],
  });
}

export interface Screens {
  readonly wall: Device;
  readonly phone: Device;
  readonly both: readonly Device[];
}

/** A wall and a phone that reach the server through `address`. */
export async function screensAt(of: Browser, server: ServerProcess, address: string): Promise<Screens> {
  const through = { address, clock: server.clock } as unknown as ServerProcess;
  const wall = await Device.open(of, through, '/wall', { width: 1920, height: 1080 });
  const phone = await Device.open(of, through, '/pocket', { width: 390, height: 844 });
  return { wall, phone, both: [wall, phone] };
}

/** What a page says of itself. */
export interface Standing {
  readonly confirmed: boolean;
  readonly revision: number;
  readonly pulses: number;
}

/** As text: scripts are judged without a page's own types. */
const LOOK = `({
  confirmed: document.documentElement.dataset.confirmed === 'true',
  revision: Number(document.documentElement.dataset.revision),
  pulses: window.hand.pulses,
})`;

export function standing(device: Device): Promise<Standing> {
  return device.page.evaluate<Standing>(LOOK);
}
