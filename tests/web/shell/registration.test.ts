import { describe, expect, it } from 'vitest';
import { ShellRegistration, type Registered } from '../../../web/src/shell/registration.svelte.ts';

function workers(registered: Partial<Registered> | undefined, ready: Promise<unknown> = Promise.resolve()) {
  const asked: unknown[] = [];
  const register = async (...how: readonly unknown[]) => {
    asked.push(how);
    return registered as never;
  };
  return { asked, workers: { register, ready } as never };
}

describe('whether a screen opens without the server', () => {
  it('[R10] it does not where there are no service workers, as on plain http', async () => {
    const shell = new ShellRegistration();
    await shell.start(null);
    expect(shell.opensAlone).toBe('absent');
    shell.update();
    shell.quiet(0);
    expect(shell.waits).toBe(false);
  });

  it('[R10] it does once everything is kept', async () => {
    let kept: () => void = () => undefined;
    const { asked, workers: some } = workers({}, new Promise<void>((resolve) => (kept = resolve)));
    const shell = new ShellRegistration();
    const started = shell.start(some);
    expect(shell.opensAlone).toBe('preparing');
    kept();
    await started;
    expect(shell.opensAlone).toBe('yes');
    expect(asked).toEqual([['/sw.js', { updateViaCache: 'none' }]]);
  });

  it('[R10] it does not where the browser refuses or registers nothing', async () => {
    const refusing = { register: () => Promise.reject(new Error('SecurityError')), ready: Promise.resolve() } as never;
    for (const some of [refusing, workers(undefined).workers]) {
      const shell = new ShellRegistration();
      await shell.start(some);
      expect(shell.opensAlone).toBe('failed');
    }
  });

  it('[R10] a version that waits hears of quiet moments, every five seconds', async () => {
    const said: unknown[] = [];
    const registered = { waiting: { postMessage: (text: unknown) => void said.push(text) } } as Partial<Registered>;
    const shell = new ShellRegistration();
    await shell.start(workers(registered).workers);
    expect(shell.waits).toBe(true);
    for (const at of [0, 1_000, 4_999, 5_000, 9_000]) shell.quiet(at);
    expect(said).toEqual(['quiet', 'quiet']);
  });
});
