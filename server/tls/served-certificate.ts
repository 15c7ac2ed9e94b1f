import type { EpochMs } from '../../core/time.ts';
import type { Timers } from '../engine/timers.ts';
import { datesTold, readCertificate, type Certificate, type CertificateFiles } from './certificate.ts';

/** Certificates are renewed every few weeks, days before the old one ends: an hour is soon enough. */
const LOOK_EVERY_MS = 60 * 60_000;

export interface RenewalDeps {
  readonly timers: Timers;
  readonly log: { info(details: object, message: string): void; warn(details: object, message: string): void };
}

/** The certificate that pages are served with, for as long as the process lives. */
export class ServedCertificate {
  readonly #files: CertificateFiles;
  readonly #deps: RenewalDeps;
  #used: Certificate;
  #stop: () => void = () => undefined;

  /** Throws ConfigRefused when the files are no certificate with its key. */
  constructor(files: CertificateFiles, deps: RenewalDeps) {
    this.#files = files;
    this.#deps = deps;
    this.#used = readCertificate(files);
  }

  get pem(): { readonly cert: string; readonly key: string } {
    return this.#used;
  }

  get names(): readonly string[] {
    return this.#used.names;
  }

  datesTold(wall: EpochMs): readonly string[] {
    const told = datesTold(this.#used, wall);
    return told === null ? [] : [told];
  }

  /**
   * From now on takes a renewed certificate into use without a restart, which would drop every screen. Files that are half written,
   * or do not belong together for a moment, change nothing.
   */
  renewOn(server: object): void {
    if (!('setSecureContext' in server)) return;
    const { setSecureContext } = server as { setSecureContext: (pem: { cert: string; key: string }) => void };
    this.#stop = this.#deps.timers.every(LOOK_EVERY_MS, () => {
      try {
        const now = readCertificate(this.#files);
        if (now.cert === this.#used.cert && now.key === this.#used.key) return;
        setSecureContext.call(server, { cert: now.cert, key: now.key });
        this.#used = now;
        this.#deps.log.info({ validTo: new Date(now.validTo).toISOString() }, 'a renewed certificate is in use');
      } catch (error) {
        this.#deps.log.warn({ err: error }, 'the certificate could not be read again: the former one is still in use');
      }
    });
  }

  end(): void {
    this.#stop();
  }
}
