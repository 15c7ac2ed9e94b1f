/** Words of the stylist's phone. What is done at a head is said with the words of the chair. */
export const pocket = {
  who: {
    ask: 'Who holds this phone?',
    hint: 'One touch: it turns the sound on and rings a test.',
    none: 'Nobody is on the list yet. The salon page is the place to add people.',
    without: 'Until a name is chosen this phone rings for nobody.',
  },
  test: {
    heard: 'Did you hear it?',
    yes: 'Yes',
    no: 'No',
    again: 'Ring again',
    without: 'Go on without sound',
    failed: 'The server could not be asked. No test was rung.',
    quiet:
      'Turn the volume up and the silent switch off, then ring again. Until you hear it, do not count on this phone.',
  },
  notYou: 'Not you?',
  mine: 'My heads',
  others: 'On the floor',
  none: 'Nobody sits in a chair.',
  open: (chair: string) => `Open chair ${chair}`,
  back: 'All heads',
  ringing: {
    go: (chair: string) => `I’ll go to ${chair}`,
    goPlain: 'I’ll see to it',
    going: 'You are going',
    dismiss: 'Not me',
    hidden: 'Not me: it goes on ringing until somebody takes it.',
    head: 'Open head',
  },
  rung: {
    can: 'Can ring while this page is open',
    cannot: 'Cannot ring now',
    title: 'Can I be rung?',
    close: 'Close',
    sound: {
      heard: 'Sound: you heard the test',
      untested: 'Sound is on. Nobody has said yet that it was heard.',
      unheard: 'Sound: the last test was not heard',
      locked: 'No sound yet: touch to turn it on',
      broken: 'Sound has stopped: touch to bring it back',
      absent: 'This phone’s browser cannot make sound',
    },
    awake: {
      held: 'The screen is kept awake',
      off: 'The screen may go to sleep: then this phone cannot ring',
      absent:
        'This page cannot keep the screen awake: it is opened over plain http, or the browser has no means. Set the phone’s screen time-out longer.',
    },
    buzz: { on: 'Vibrates with the bell, where the phone lets it', absent: 'This browser cannot vibrate' },
    link: {
      heard: (ago: string) => `Server heard ${ago} ago`,
      never: 'Server not heard yet',
      lost: (ago: string) => `No word from the server for ${ago}`,
    },
    person: (name: string) => `Rings for ${name}: every bell of the floor that sounds`,
    nobody: 'No name chosen: this phone rings for nobody',
    not: 'What this phone cannot do now',
    limits: [
      'Ring while it is locked or its screen is off.',
      'Ring while this page is closed or behind another.',
      'Tell the floor that you heard. Only “I’ll go” says so.',
    ],
  },
  owed: {
    title: 'Owed',
    count: (n: number) => `Owed: ${n}`,
    at: (chair: string, clock: string) => `${chair} · seated ${clock}`,
    back: 'Close',
  },
} as const;
