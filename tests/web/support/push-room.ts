import { keyBytes, type PushRoom, type Subscription } from '../../../web/src/reach/push-wire.ts';

/** Two public keys of servers; what they open is of no concern here. */
export const KEY = 'BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8';
export const OTHER_KEY = 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4';

/** What a browser keeps of pushes, without a push service behind it. */
export class FakeRoom implements PushRoom {
  made: Subscription[] = [];
  current: Subscription | null = null;
  /** The browser takes no subscription. */
  refuses = false;

  async getSubscription(): Promise<Subscription | null> {
    return this.current;
  }

  async subscribe({ applicationServerKey }: { applicationServerKey: Uint8Array<ArrayBuffer> }): Promise<Subscription> {
    if (this.refuses) throw new DOMException('Registration failed', 'AbortError');
    const one = this.lies(applicationServerKey);
    this.made.push(one);
    return one;
  }

  /** There since an earlier visit. */
  lies(key: Uint8Array<ArrayBuffer> = keyBytes(KEY)): Subscription {
    this.current = {
      endpoint: `https://push.example/${this.made.length + 1}`,
      options: { applicationServerKey: key.slice().buffer },
      toJSON: () => ({ keys: { p256dh: 'a-public-key', auth: 'an-auth' } }),
      unsubscribe: async () => {
        this.current = null;
        return true;
      },
    };
    return this.current;
  }
}
