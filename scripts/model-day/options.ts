import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

export interface Options {
  /** 0: whichever is free. */
  readonly port: number;
  readonly folder: string;
  readonly seed: number;
  /** Anybody on this network may look in, and act. */
  readonly lan: boolean;
}

export class OptionRefused extends Error {}

/** The model day's address when nobody names one: beside the real salon's, never on it. */
const USUAL_PORT = 4848;
const USUAL_FOLDER = fileURLToPath(new URL('../../data/model-day', import.meta.url));
/** Any day is as good as any other; this one is shown unless another is asked for. */
const USUAL_SEED = 12;

/** What was asked for on the command line. */
export function optionsOf(args: readonly string[]): Options {
  const { values } = parsed(args);
  return {
    port: whole('--port', values.port ?? `${USUAL_PORT}`, 65_535),
    folder: resolve(values.data ?? USUAL_FOLDER),
    seed: whole('--seed', values.seed ?? `${USUAL_SEED}`, 2 ** 32 - 1),
    lan: values.lan ?? false,
  };
}

function parsed(args: readonly string[]) {
  const string = { type: 'string' } as const;
  const options = { port: string, data: string, seed: string, lan: { type: 'boolean' } } as const;
  try {
    return parseArgs({ args: [...args], options, allowPositionals: false });
  } catch (error) {
    throw new OptionRefused(error instanceof Error ? error.message : 'Options not understood.', { cause: error });
  }
}

function whole(name: string, text: string, most: number): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (value <= most) return value;
  throw new OptionRefused(`${name} ${text}: a whole number from 0 to ${most} is wanted.`);
}
