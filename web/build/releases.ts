/** Which files each of the last releases is made of, newest first. Paths from the folder of the pages: `assets/…`. */
export interface Releases {
  readonly releases: readonly { readonly files: readonly string[] }[];
}

/** This one and the one before: a screen that was opened before the last update still gets its files. */
const KEPT = 2;

/** The releases after a build. The same files built again are no new release and push none out. */
export function withRelease({ releases }: Releases, files: readonly string[]): Releases {
  const built = { files: [...files].sort() };
  const others = releases.filter((one) => !sameFiles(one.files, built.files));
  return { releases: [built, ...others].slice(0, KEPT) };
}

/** Files that no release kept is made of. */
export function outlived({ releases }: Releases, present: readonly string[]): readonly string[] {
  const kept = new Set(releases.flatMap(({ files }) => files));
  return present.filter((file) => !kept.has(file));
}

/** What was written down at the last build; nothing where there is none or it cannot be read. */
export function readReleases(text: string | null): Releases {
  try {
    const { releases } = JSON.parse(text ?? '') as Partial<Releases>;
    if (!Array.isArray(releases)) return { releases: [] };
    return { releases: releases.filter(({ files }) => Array.isArray(files)) };
  } catch {
    return { releases: [] };
  }
}

function sameFiles(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((file, n) => file === b[n]);
}
