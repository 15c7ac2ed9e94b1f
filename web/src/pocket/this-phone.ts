/** What is known of the browser that shows this page; it does not change while the page is open. */
export interface Phone {
  readonly make: 'apple' | 'android' | 'other';
  /** A page by https, or of this very machine: only there browsers have a wake lock, workers and pushes (w3.org/TR/secure-contexts). */
  readonly secure: boolean;
  /** Opened from the home screen. */
  readonly installed: boolean;
  readonly vibrates: boolean;
  readonly wakeLock: boolean;
  /** The page can say that it plays for itself, so that the silent switch does not hush it (w3.org/TR/audio-session). */
  readonly audioSession: boolean;
}

type Browser = Pick<Navigator, 'userAgent' | 'maxTouchPoints'>;

/** From what a browser says of itself. A tablet of Apple's calls itself a desktop, but has a screen that is touched. */
export function makeOf({ userAgent, maxTouchPoints }: Browser): Phone['make'] {
  if (/android/i.test(userAgent)) return 'android';
  return /iphone|ipad|ipod/i.test(userAgent) || (/macintosh/i.test(userAgent) && maxTouchPoints > 1)
    ? 'apple'
    : 'other';
}

export function thisPhone(): Phone {
  const installed = window.matchMedia?.('(display-mode: standalone)').matches ?? false;
  return {
    make: makeOf(navigator),
    secure: window.isSecureContext === true,
    installed: installed || ('standalone' in navigator && navigator.standalone === true),
    vibrates: typeof navigator.vibrate === 'function',
    wakeLock: 'wakeLock' in navigator,
    audioSession: 'audioSession' in navigator,
  };
}
