import { mount } from 'svelte';
import type { Component } from 'svelte';
import '../styles/screen.css';
import { words } from '../words/words.ts';
import type { Session } from './session.svelte.ts';
import { theme } from './theme.svelte.ts';

/** Puts a screen's component into its page, with the session it stands on where it has one. */
export function openScreen(screen: Component): void;
export function openScreen(screen: Component<{ session: Session }>, session: Session): void;
export function openScreen(screen: Component | Component<{ session: Session }>, session?: Session): void {
  const target = document.getElementById('screen');
  if (!target) throw new Error('the page has no place for its screen');
  theme.follow(document.documentElement);
  document.documentElement.lang = words().language;
  if (session === undefined) mount(screen as Component, { target });
  else mount(screen as Component<{ session: Session }>, { target, props: { session } });
}
