import { describe, expect, it } from 'vitest';
import { isLoopback, pocketAddress, reachableFrom } from '../../../web/src/front/addresses.ts';
import { qrPath } from '../../../web/src/front/qr-path.ts';

const here = { origin: 'http://localhost:4680', hostname: 'localhost' };
const there = { origin: 'http://192.0.2.7:4680', hostname: '192.0.2.7' };

describe('addresses on the first page', () => {
  it('knows the addresses that nobody else reaches', () => {
    for (const own of ['localhost', 'wall.localhost', '127.0.0.1', '127.3.2.1', '[::1]'])
      expect(isLoopback(own)).toBe(true);
    for (const other of ['192.0.2.7', 'salon.local', '[fd00::2]', 'localhost.example', '1270.example']) {
      expect(isLoopback(other)).toBe(false);
    }
  });
  it('the pocket is found where this page was found, or where the server says', () => {
    expect(pocketAddress(there, ['http://192.0.2.9:4680/'])).toBe('http://192.0.2.7:4680/pocket');
    expect(pocketAddress(here, ['http://192.0.2.9:4680/', 'http://[fd00::2]:4680/'])).toBe(
      'http://192.0.2.9:4680/pocket',
    );
  });
  it('while only this computer is served there is none', () => {
    expect(pocketAddress(here, [])).toBeNull();
  });
  it('a model day on the server is opened from a phone at the server’s address', () => {
    expect(reachableFrom(there, 'http://127.0.0.1:33143/')).toBe('http://192.0.2.7:33143/');
    expect(reachableFrom(here, 'http://127.0.0.1:33143/')).toBe('http://127.0.0.1:33143/');
    expect(reachableFrom(there, 'http://192.0.2.9:33143/')).toBe('http://192.0.2.9:33143/');
  });
});

it('a code is drawn in runs of dark modules', () => {
  expect(
    qrPath([
      [true, true, false, true],
      [false, false, false, false],
    ]),
  ).toBe('M0 0h2v1h-2zM3 0h1v1h-1z');
});
