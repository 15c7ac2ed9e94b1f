import { createPrivateKey, X509Certificate, type KeyObject } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { EpochMs } from '../../core/time.ts';
import { ConfigRefused } from '../config.ts';

/** The files of a certificate that the owner has; a chain stands in the first, its own certificate on top. */
export interface CertificateFiles {
  readonly cert: string;
  readonly key: string;
}

export interface Certificate {
  /** PEM, as Node's TLS takes it. */
  readonly cert: string;
  readonly key: string;
  /** Names of its own, in lower case; those with a star say too little. */
  readonly names: readonly string[];
  readonly validFrom: EpochMs;
  readonly validTo: EpochMs;
}

/** Before it ends, somebody has to see to it: automatic renewal tries from 30 days before on (common practice, no source). */
const ENDS_SOON_MS = 14 * 24 * 60 * 60_000;

/** Reads both files; throws ConfigRefused, with a sentence, unless they are a certificate and the key to it. */
export function readCertificate(files: CertificateFiles): Certificate {
  const cert = textOf('--tls-cert', files.cert);
  const key = textOf('--tls-key', files.key);
  const parsed = parsedOr(`--tls-cert ${files.cert} is not a certificate in PEM form`, () => new X509Certificate(cert));
  const secret: KeyObject = parsedOr(
    `--tls-key ${files.key} is not a private key in PEM form without a passphrase`,
    () => createPrivateKey(key),
  );
  if (!parsed.checkPrivateKey(secret)) {
    throw new ConfigRefused(
      `--tls-key ${files.key} does not belong to the certificate ${files.cert}. Name its own key.`,
    );
  }
  const validFrom = Date.parse(parsed.validFrom);
  const validTo = Date.parse(parsed.validTo);
  return { cert, key, names: namesIn(parsed.subjectAltName), validFrom, validTo };
}

/**
 * What to say about its dates; null when all is well. One that has ended is served all the same: browsers then warn, but a floor
 * that does not start after a power cut, or believes a clock that is wrong, would be worse.
 */
export function datesTold({ validFrom, validTo }: Certificate, wall: EpochMs): string | null {
  const on = (at: EpochMs): string => new Date(at).toISOString().slice(0, 10);
  if (wall > validTo) {
    return `The certificate ended on ${on(validTo)}: browsers will refuse these pages until there is a new one.`;
  }
  if (wall < validFrom) {
    return `The certificate begins only on ${on(validFrom)}: if that is past, this machine's clock is wrong.`;
  }
  if (validTo - wall < ENDS_SOON_MS) return `The certificate ends on ${on(validTo)}. Renew it before.`;
  return null;
}

function textOf(flag: string, file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    throw new ConfigRefused(
      missing ? `${flag}: there is no file ${file}.` : `${flag}: ${file} cannot be read by this user.`,
    );
  }
}

function parsedOr<T>(sentence: string, parse: () => T): T {
  try {
    return parse();
  } catch {
    throw new ConfigRefused(`${sentence}.`);
  }
}

/** From "DNS:bell.example, IP Address:192.0.2.7". */
function namesIn(alternatives: string | undefined): string[] {
  const found = (alternatives ?? '').split(', ').flatMap((one) => (one.startsWith('DNS:') ? [one.slice(4)] : []));
  return found.map((name) => name.toLowerCase()).filter((name) => /^[a-z0-9.-]+$/.test(name));
}
