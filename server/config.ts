import { hostname } from 'node:os';
import { parseArgs, type ParseArgsConfig } from 'node:util';
import { z } from 'zod';
import { handClockPurposes } from './clock/hand-clock-allowed.ts';

export interface Config {
  readonly port: number;
  /** Whether the salon's network is let in. */
  readonly lan: boolean;
  readonly data: string;
  /** Where backups go; null: a folder within the data's. */
  readonly backups: string | null;
  /** Folder of the built pages. */
  readonly pages: string;
  readonly clockFile: string | null;
  readonly handClockFor: string;
  readonly hostNames: ReadonlySet<string>;
  /** A certificate and its key, as files: pages are then served by https; null: by plain http. */
  readonly tls: { readonly cert: string; readonly key: string } | null;
  /** Written once the server listens, with its address; null: not at all. */
  readonly readyFile: string | null;
  readonly logLevel: string;
}

/** What was asked for cannot be meant; the message is a sentence for whoever started the server. */
export class ConfigRefused extends Error {}

/** Each can be given as a flag or in the environment as BASINBELL_…; the flag wins. */
const options = {
  port: { type: 'string' },
  lan: { type: 'boolean' },
  data: { type: 'string' },
  backups: { type: 'string' },
  pages: { type: 'string' },
  'clock-file': { type: 'string' },
  'hand-clock-for': { type: 'string' },
  'host-name': { type: 'string', multiple: true },
  'ready-file': { type: 'string' },
  'tls-cert': { type: 'string' },
  'tls-key': { type: 'string' },
  'log-level': { type: 'string' },
} as const satisfies NonNullable<ParseArgsConfig['options']>;

const yes = z.stringbool({ truthy: ['1', 'true', 'yes'], falsy: ['', '0', 'false', 'no'] });
const settings = z.object({
  port: z.coerce.number().int().min(0).max(65_535).default(4680),
  lan: z.union([z.boolean(), yes]).default(false),
  data: z.string().min(1).default('data'),
  backups: z.string().min(1).nullable().default(null),
  pages: z.string().min(1).default('web/dist'),
  'clock-file': z.string().min(1).nullable().default(null),
  'hand-clock-for': z.enum(handClockPurposes).default('tests'),
  'host-name': z.union([z.array(z.string()), z.string().transform((names) => names.split(','))]).default([]),
  'ready-file': z.string().min(1).nullable().default(null),
  'tls-cert': z.string().min(1).nullable().default(null),
  'tls-key': z.string().min(1).nullable().default(null),
  'log-level': z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('info'),
});

export function configOf(args: readonly string[], environment: Readonly<Record<string, string | undefined>>): Config {
  const given = { ...fromEnvironment(environment), ...fromFlags(args) };
  const parsed = settings.safeParse(given);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new ConfigRefused(`--${String(issue?.path[0])} was not understood: ${issue?.message}.`);
  }
  const { data } = parsed;
  const own = hostname().toLowerCase();
  return {
    port: data.port,
    lan: data.lan,
    data: data.data,
    backups: data.backups,
    pages: data.pages,
    clockFile: data['clock-file'],
    handClockFor: data['hand-clock-for'],
    hostNames: new Set([
      'localhost',
      own,
      `${own}.local`,
      ...data['host-name'].map((name) => name.trim().toLowerCase()),
    ]),
    tls: bothOf(data['tls-cert'], data['tls-key']),
    readyFile: data['ready-file'],
    logLevel: data['log-level'],
  };
}

function bothOf(cert: string | null, key: string | null): Config['tls'] {
  if (cert !== null && key !== null) return { cert, key };
  if (cert === null && key === null) return null;
  const [given, wanted] = cert === null ? ['--tls-key', '--tls-cert'] : ['--tls-cert', '--tls-key'];
  throw new ConfigRefused(`${given} was given without ${wanted}. Give both, or neither.`);
}

function fromFlags(args: readonly string[]): Record<string, unknown> {
  try {
    return { ...parseArgs({ args: [...args], options, strict: true, allowPositionals: false }).values };
  } catch (error) {
    const known = Object.keys(options).map((name) => `--${name}`);
    const why = error instanceof Error ? error.message.split('. ')[0] : String(error);
    throw new ConfigRefused(`${why}. Known are ${known.join(', ')}.`);
  }
}

function fromEnvironment(environment: Readonly<Record<string, string | undefined>>): Record<string, unknown> {
  const given: Record<string, unknown> = {};
  for (const name of Object.keys(options)) {
    const value = environment[`BASINBELL_${name.toUpperCase().replaceAll('-', '_')}`];
    if (value !== undefined) given[name] = value;
  }
  return given;
}
