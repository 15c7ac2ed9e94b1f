import { spawn } from 'node:child_process';
import { SECOND, type Ms } from '../../core/time.ts';

/** systemd-notify itself waits at most 5 s for the notice to be taken in; what hangs longer is ended. */
const LONGEST: Ms = 10 * SECOND;

/** Sends lines such as `READY=1` as one datagram; rejects when they did not arrive. */
export type SendNotice = (lines: readonly string[]) => Promise<void>;

/**
 * By `systemd-notify`, which lies wherever systemd does: Node opens no datagram sockets of the local kind, and a compiled
 * package of its own for one line in 20 s would have to fit every machine. It waits until the line was taken in, so that
 * its sender is still known by then.
 */
export function noticesTo(socket: string): SendNotice {
  return (lines) =>
    new Promise((resolve, reject) => {
      const child = spawn('systemd-notify', [...lines], {
        env: { PATH: process.env['PATH'], NOTIFY_SOCKET: socket },
        stdio: 'ignore',
        timeout: LONGEST,
        killSignal: 'SIGKILL',
      });
      child.once('error', reject);
      child.once('exit', (code, signal) => {
        if (code === 0) resolve();
        else reject(new Error(`systemd-notify ended with ${code ?? signal}`));
      });
    });
}
