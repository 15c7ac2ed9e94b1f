import { mount } from 'svelte';
import type { Component } from 'svelte';
import '../styles/screen.css';
import { spokenLanguage } from '../words/spoken.ts';
import { theme } from './theme.svelte.ts';

/** Puts a screen's component, with what it is given, into its page. */
export function openScreen<Props extends Record<string, unknown>>(screen: Component<Props>, props: Props): void {
  const target = document.getElementById('screen');
  if (!target) throw new Error('the page has no place for its screen');
  theme.follow(document.documentElement);
  document.documentElement.lang = spokenLanguage();
  mount(screen, { target, props });
}
