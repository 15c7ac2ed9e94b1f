import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

const here = fileURLToPath(new URL('.', import.meta.url));
const repository = fileURLToPath(new URL('../../../../', import.meta.url));

/** The salon page over a floor that lives in the browser, for looking at; no page of the product. */
export default defineConfig({
  root: here,
  cacheDir: `${repository}node_modules/.vite-salon`,
  plugins: [svelte({ configFile: false, compilerOptions: { runes: true } })],
  // Others edit while pictures are taken: nothing reloads.
  server: { port: 4730, strictPort: true, watch: null, hmr: false, fs: { allow: [repository] } },
});
