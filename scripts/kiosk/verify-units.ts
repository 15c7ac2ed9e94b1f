import { execFile, type ExecFileException } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Found } from './found.ts';

const installer = fileURLToPath(new URL('../install-kiosk', import.meta.url));

const units = ['basinbell.service', 'basinbell-wall.service'] as const;

/** Has `systemd-analyze verify` read the units as install-kiosk writes them; any warning about them counts. */
export async function verifyUnits(): Promise<Found> {
  const root = mkdtempSync(join(tmpdir(), 'basinbell-box-'));
  try {
    const installed = await said('bash', [installer, '--root', root, '--backups', '/var/backups/basinbell']);
    if (installed.code !== 0) return { ok: false, lines: ['install-kiosk failed', ...installed.lines] };
    const found = { ok: true, lines: [] as string[] };
    for (const unit of units) {
      const { code, lines } = await said('systemd-analyze', [
        'verify',
        '--man=no',
        '--recursive-errors=no',
        withProgramsOf(root, unit),
      ]);
      found.ok &&= code === 0 && lines.length === 0;
      found.lines.push(`systemd-analyze verify ${unit}: ${code === 0 ? 'ok' : `ended with ${code}`}`, ...lines);
    }
    return found;
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}

/** The unit with programs of its own looked for where they were written, for only what can be started passes. */
function withProgramsOf(root: string, unit: string): string {
  const text = readFileSync(join(root, 'etc/systemd/system', unit), 'utf8');
  const folder = join(root, 'verified');
  mkdirSync(folder, { recursive: true });
  const file = join(folder, unit);
  writeFileSync(file, text.replaceAll('=/usr/local/lib/', `=${root}/usr/local/lib/`));
  return file;
}

function said(program: string, args: readonly string[]): Promise<{ readonly code: number; readonly lines: string[] }> {
  return new Promise((resolve) => {
    execFile(program, args, { encoding: 'utf8' }, (error: ExecFileException | null, stdout, stderr) => {
      const lines = `${stdout}${stderr}`.split('\n').filter((line) => line !== '');
      if (error === null) return resolve({ code: 0, lines });
      if (typeof error.code === 'number') return resolve({ code: error.code, lines });
      resolve({ code: 127, lines: [`${program} could not be started: ${error.message}`] });
    });
  });
}
