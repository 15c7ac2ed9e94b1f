import type { ReachKind } from '../../../../shared/wire.ts';
import type { PushTrouble } from '../../../../shared/push.ts';
import type { Limit } from '../../pocket/cannot-do.ts';
import type { Notices } from '../../pocket/ring-lines.ts';
import type { PushState } from '../../reach/push-subscription.svelte.ts';

/** Words of "Can I be rung?": how this phone stands now, what it cannot do, and what to do about it. */
export const rung = {
  can: 'Can ring while this page is open',
  cannot: 'Cannot ring now',
  away: 'You are away: others are rung',
  alone: 'Rings only for what it knows',
  title: 'Can I be rung?',
  close: 'Close',
  /** What a screen reader hears before each line. */
  stands: { yes: 'well', less: 'less than it could be', no: 'not' },
  sound: {
    heard: 'Sound: you heard the test',
    untested: 'Sound is on. Nobody has said yet that it was heard.',
    unheard: 'Sound: the last test was not heard',
    locked: 'No sound yet: touch to turn it on',
    broken: 'Sound has stopped, as after a call or a locked screen: touch to bring it back',
    absent: 'This phone’s browser cannot make sound',
  },
  awake: {
    held: 'The screen is kept awake',
    off: 'The screen may go to sleep: then this phone cannot ring',
    absent: 'This page cannot keep the screen awake: set the phone’s screen time-out longer',
  },
  buzz: { on: 'Vibrates with the bell, where the phone lets it', absent: 'This browser cannot vibrate' },
  notices: {
    granted: 'Notifications are allowed',
    default: 'Notifications have not been asked for',
    denied: 'Notifications are forbidden in this browser',
    absent: 'This page cannot show notifications',
  } satisfies Record<Notices, string>,
  push: {
    looking: 'Push: not known yet, the server has not said',
    insecure: 'Push does not exist on a page that came by plain http',
    'install-first': 'Push wants this page on the home screen first',
    unsupported: 'Push does not exist in this browser',
    'salon-off': 'Push is off in this salon',
    denied: 'Push: this browser was told not to notify',
    ask: 'Push is not turned on for this phone',
    off: 'Push is not turned on for this phone',
    subscribed: 'Push is set up. No test has come back from this phone, so the salon does not count on it.',
    testing: 'Push: a test is on its way',
    confirmed: 'Push: a test was shown on this phone',
    failed: 'Push could not be set up: it needs the internet, here and at the server',
  } satisfies Record<PushState, string>,
  trouble: {
    refused: 'The last push was refused by the service of the phone’s maker.',
    slow: 'The last push was not taken in time: the internet is slow or away.',
  } satisfies Record<PushTrouble, string>,
  pushOn: 'Turn push on for this phone',
  pushTest: 'Send a test push',
  pushOff: 'Turn push off',
  pushSent: 'Lock the phone now to try it as it will be. It may take half a minute.',
  link: {
    heard: (ago: string) => `Server heard ${ago} ago`,
    never: 'Server not heard yet',
    lost: (ago: string) => `No word from the server for ${ago}`,
  },
  muted: { no: 'Not muted', yes: (left: string, clock: string) => `Quiet for ${left}, until ${clock}: not for DANGER` },
  seenAs: {
    rings: 'The salon sees you as: rings',
    shown: 'The salon sees you as: shown only, without sound',
    push: 'The salon sees you as: by push only',
    no: 'The salon sees you as: not to be reached',
  } satisfies Record<ReachKind, string>,
  /** Whether this page opens again while the server is away. */
  opensAlone: {
    yes: 'Opens without the server: last known times, not confirmed',
    preparing: 'Cannot be opened again without the server yet: it is being kept on this phone',
    absent: 'This page cannot be opened again without the server (no https)',
    failed: 'This page cannot be opened again without the server: the browser keeps nothing for it',
  },
  person: (name: string) => `Rings for ${name}: for bells that ask them`,
  nobody: 'No name chosen: this phone rings for nobody',
  offShift: (name: string) => `${name} is not on shift: this phone rings for nobody`,
  awayShift: (name: string, clock: string) => `${name} is away until ${clock}: others are rung`,
  not: 'What this phone cannot do now',
  cannotDo: {
    'plain-http': 'Anything but sound, and only while this page is open: it came over plain http.',
    locked: 'Ring while it is locked, its screen is off, or this page is behind another.',
    'locked-push-late': 'Ring at once while it is locked: a push may take a minute, and sometimes does not come.',
    'home-screen': 'Get pushes from this window: this phone gives them only to a page on its home screen.',
    'push-off': 'Get pushes while it is locked: they are not turned on here.',
    'push-denied': 'Get pushes: notifications of this page were forbidden.',
    'push-salon-off': 'Get pushes: the salon has not turned them on.',
    'silent-switch': 'Ring while its silent switch is on.',
    focus: 'Ring by push while a Focus or “do not disturb” is on.',
    battery: 'Count on pushes while the system saves battery.',
    channel: 'Choose by itself how a push sounds: the phone’s settings do.',
    'may-sleep': 'Keep its screen awake: this browser has no means for it.',
    'no-vibration': 'Vibrate: this browser does not let a page do that.',
    hearing: 'Know that you heard it. It tells the salon what it has shown; only “I’ll go” says that somebody comes.',
  } satisfies Record<Limit, string>,
  todo: {
    'plain-http':
      'Leave this page in front and set the phone’s screen time-out to its longest. With a certificate the owner can serve it by https.',
    locked: 'Leave this page in front, the screen on, and the phone where you hear it.',
    'locked-push-late': 'Leave this page in front while you have product on a head. The wall is the first bell.',
    'home-screen': 'Share, then “Add to Home Screen”. Open it from there and choose your name again.',
    'push-off': 'Turn push on, above.',
    'push-denied': 'Allow notifications for this page in the browser’s settings, then open it anew.',
    'push-salon-off': 'The owner turns them on, on the salon page. It needs the internet and https.',
    'silent-switch': 'Turn the silent switch off and the volume up, then ring a test.',
    focus: 'Settings, Focus: let notifications of this app through.',
    battery: 'Settings, apps, this browser, battery: unrestricted.',
    channel:
      'Settings, apps, this browser, notifications, this site: alerting, with sound and vibration; no “cooldown” for repeated ones.',
    'may-sleep': 'Set the phone’s screen time-out to its longest, and touch it now and then.',
    'no-vibration': 'Turn the volume up.',
    hearing: 'Touch “I’ll go” when you go, and “can’t” when you cannot.',
  } satisfies Record<Limit, string>,
} as const;
