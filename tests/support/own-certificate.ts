import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { generate } from 'selfsigned';

export interface OwnCertificate {
  readonly cert: string;
  readonly key: string;
  /** PEM of the certificate: whoever trusts it trusts the server. */
  readonly trust: string;
}

const DAY = 24 * 60 * 60_000;

/** A throw-away certificate for this machine, in two files, made anew: no key lies in the repository. */
export async function ownCertificate(
  days: { readonly from: number; readonly to: number } = { from: -1, to: 90 },
  folder = mkdtempSync(join(tmpdir(), 'basinbell-tls-')),
): Promise<OwnCertificate> {
  const now = Date.now();
  const made = await generate([{ name: 'commonName', value: 'bell.example' }], {
    keyType: 'ec',
    notBeforeDate: new Date(now + days.from * DAY),
    notAfterDate: new Date(now + days.to * DAY),
    extensions: [
      {
        name: 'subjectAltName',
        altNames: [
          { type: 2, value: 'Bell.example' },
          { type: 2, value: '*.stars.example' },
          { type: 2, value: 'localhost' },
          { type: 7, ip: '127.0.0.1' },
        ],
      },
    ],
  });
  const files = { cert: join(folder, 'cert.pem'), key: join(folder, 'key.pem') };
  writeFileSync(files.cert, made.cert);
  writeFileSync(files.key, made.private);
  return { ...files, trust: made.cert };
}
