import type { PushState } from '../reach/push-subscription.svelte.ts';
import type { Phone } from './this-phone.ts';

/** What a phone cannot do now, each with what to do about it; in the order in which it matters. */
export const limitKinds = [
  'plain-http',
  'locked',
  'locked-push-late',
  'home-screen',
  'push-off',
  'push-denied',
  'push-salon-off',
  'silent-switch',
  'focus',
  'battery',
  'channel',
  'may-sleep',
  'no-vibration',
  'hearing',
] as const;
export type Limit = (typeof limitKinds)[number];

/** Read from the traps of browsers on phones; nothing is promised that a page cannot know. */
export function cannotDo(phone: Phone, push: PushState): readonly Limit[] {
  const apple = phone.make === 'apple';
  const android = phone.make === 'android';
  const pushed = push === 'subscribed' || push === 'testing' || push === 'confirmed';
  const some: Partial<Record<Limit, boolean>> = {
    'plain-http': !phone.secure,
    locked: !pushed,
    'locked-push-late': pushed,
    'home-screen': push === 'install-first',
    'push-off': push === 'ask' || push === 'off' || push === 'failed',
    'push-denied': push === 'denied',
    'push-salon-off': push === 'salon-off',
    'silent-switch': apple && !phone.audioSession,
    focus: apple && pushed,
    battery: android && pushed,
    channel: android && pushed,
    'may-sleep': phone.secure && !phone.wakeLock,
    'no-vibration': !phone.vibrates,
    hearing: true,
  };
  return limitKinds.filter((one) => some[one] === true);
}
