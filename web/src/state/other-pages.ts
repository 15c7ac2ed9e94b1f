import type { Touch } from './touch.ts';

/** What a page of this device tells the others: touches as they now stand, and those that were read and put away. */
export interface Told {
  readonly put: readonly Touch[];
  readonly gone: readonly string[];
}

/** The other pages of this browser that show the same floor. */
export interface OtherPages {
  tell(told: Told): void;
  listen(heard: (told: Told) => void): void;
}

/** Without a channel the pages still meet in the store, which each of them reads every few seconds. */
export function browserPages(): OtherPages {
  if (typeof BroadcastChannel === 'undefined') return { tell: () => undefined, listen: () => undefined };
  const channel = new BroadcastChannel('basinbell-touches');
  return {
    tell(told) {
      try {
        channel.postMessage(told);
      } catch {
        // Nothing of ours depends on being heard.
      }
    },
    listen(heard) {
      channel.onmessage = ({ data }: MessageEvent<Told>) => {
        if (Array.isArray(data?.put) && Array.isArray(data.gone)) heard(data);
      };
    },
  };
}
