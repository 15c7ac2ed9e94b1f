/** The little this device remembers of itself. Storage may be missing or refuse (private windows, full). */
export interface Keep {
  read(name: string): string | null;
  write(name: string, value: string | null): void;
}

/** Falls back to memory, so that a refusing storage costs the memory of a choice and nothing else. */
export function keepIn(storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null): Keep {
  const held = new Map<string, string>();
  return {
    read(name) {
      try {
        return storage?.getItem(`basinbell.${name}`) ?? held.get(name) ?? null;
      } catch {
        return held.get(name) ?? null;
      }
    },
    write(name, value) {
      if (value === null) held.delete(name);
      else held.set(name, value);
      try {
        if (value === null) storage?.removeItem(`basinbell.${name}`);
        else storage?.setItem(`basinbell.${name}`, value);
      } catch {
        // Kept in memory above; nothing else depends on it.
      }
    },
  };
}

/** Merely touching `localStorage` throws where cookies are blocked. */
export function browserKeep(): Keep {
  try {
    return keepIn(globalThis.localStorage ?? null);
  } catch {
    return keepIn(null);
  }
}
