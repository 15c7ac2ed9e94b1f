import { faultAt, type FieldFault } from './fault.ts';

export interface PushDraft {
  choice: 'on' | 'off';
  /** As people write it: an e-mail address, or a page. */
  contact: string;
}

export const pushNeeds = ['internet', 'secure', 'certificate', 'contact'] as const;
export type PushNeed = (typeof pushNeeds)[number];
export type NeedState = 'met' | 'missing' | 'unknown';

export function pushDraftOf(on: boolean, contact: string | null): PushDraft {
  return { choice: on ? 'on' : 'off', contact: contactText(contact) };
}

/** As people write it. */
export function contactText(contact: string | null): string {
  return (contact ?? '').replace(/^mailto:/, '');
}

/** An address for RFC 8292 §2.1 (`sub`: a mailto: or https: URI); null where it is none. As core judges it. */
export function contactOf(typed: string): string | null {
  const text = typed.trim();
  const uri = /^[^:/\s]+@/.test(text) ? `mailto:${text}` : text;
  return /^(mailto:[^@\s]+@[^@\s]+\.[^@\s]+|https:\/\/\S+\.\S+)$/.test(uri) ? uri : null;
}

export interface PushReading {
  readonly asked: { readonly on: boolean; readonly contact: string } | null;
  readonly faults: readonly FieldFault[];
}

/** Off needs no contact; one that is there is kept, and then it must be one. */
export function readPush(draft: PushDraft): PushReading {
  const on = draft.choice === 'on';
  if (draft.contact.trim() === '') {
    return on ? { asked: null, faults: [faultAt('contact', 'missing')] } : { asked: { on, contact: '' }, faults: [] };
  }
  const contact = contactOf(draft.contact);
  return contact === null
    ? { asked: null, faults: [faultAt('contact', 'no-contact')] }
    : { asked: { on, contact }, faults: [] };
}

/** What a page can know of what push needs. Whether the internet is there shows only when something is sent. */
export interface PushSeen {
  /** The page's own address. */
  readonly protocol: string;
  /** A browser lets this page do what needs trust; also on the server's own machine without a certificate. */
  readonly secure: boolean;
  readonly contact: string | null;
  /** Whether the last push went out; null: none was tried. */
  readonly sent: boolean | null;
}

export function needsOf({ protocol, secure, contact, sent }: PushSeen): Readonly<Record<PushNeed, NeedState>> {
  const met = (there: boolean): NeedState => (there ? 'met' : 'missing');
  const https = protocol === 'https:';
  return {
    internet: sent === null ? 'unknown' : met(sent),
    // On loopback this page is trusted, but no phone opens it there.
    secure: met(https),
    certificate: met(https && secure),
    contact: met(contact !== null && contact !== ''),
  };
}
