/** What a release's shell consists of: pages are known by their paths, everything else by the file. */
export interface Shell {
  /** Fingerprint of all of it: two releases with the same files are one. */
  readonly version: string;
  readonly files: readonly string[];
}

/** Screens that start without the server. The set-up does not: without the server there is nothing to set up. */
export const pagePaths = ['/wall', '/chair', '/pocket'] as const;
export type PagePath = (typeof pagePaths)[number];

/** Which of these pages an address shows; null for every other. */
export function pageAt(path: string): PagePath | null {
  return pagePaths.find((page) => path === page || path === `${page}/` || isChair(page, path)) ?? null;
}

function isChair(page: PagePath, path: string): boolean {
  return page === '/chair' && /^\/chair\/\d{1,3}$/.test(path);
}

/** Hashed files never change; the icon goes with its release. */
export function isShellFile(path: string): boolean {
  return path.startsWith('/assets/') || path === '/icon.svg';
}

/** Assets that a page names: they must all be there before the page may be kept. */
export function assetsOf(html: string): readonly string[] {
  return Array.from(html.matchAll(/(?:src|href)="(\/assets\/[^"]+)"/g), ([, path]) => path ?? '');
}
