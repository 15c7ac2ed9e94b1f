import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';
import type { Connect, Plugin } from 'vite';
import { publishWhenWhole } from './build/publish-plugin.ts';
import { serviceWorker } from './build/service-worker.ts';

const SCREENS = ['wall', 'chair', 'pocket', 'salon', 'sheet'] as const;
const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The development server answers `/wall` and `/chair/4` as the real server does. */
function screenAddresses(): Plugin {
  const rewrite: Connect.NextHandleFunction = (req, _res, next) => {
    const [path = '/', query] = (req.url ?? '/').split('?');
    const screen = SCREENS.find((name) => path === `/${name}` || path.startsWith(`/${name}/`));
    if (screen && !path.includes('.')) req.url = `/${screen}.html${query ? `?${query}` : ''}`;
    next();
  };
  return { name: 'screen-addresses', configureServer: (server) => void server.middlewares.use(rewrite) };
}

export default defineConfig({
  root: here('.'),
  appType: 'mpa',
  plugins: [svelte({ compilerOptions: { runes: true } }), screenAddresses(), serviceWorker(), publishWhenWhole()],
  server: {
    port: 4720,
    strictPort: true,
    proxy: {
      '/api': 'http://127.0.0.1:4680',
      '/socket.io': { target: 'http://127.0.0.1:4680', ws: true },
    },
  },
  build: {
    outDir: here('dist'),
    target: 'es2022',
    // The content security policy allows files of our own only: nothing may become a data: address.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: Object.fromEntries(['index', ...SCREENS].map((name) => [name, here(`${name}.html`)])),
    },
  },
});
