import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

const here = fileURLToPath(new URL('.', import.meta.url));
const repository = fileURLToPath(new URL('../../../../', import.meta.url));

/** The phone over a staged floor, for looking at; no page of the product. */
export default defineConfig({
  root: here,
  cacheDir: `${repository}node_modules/.vite-pocket-stage`,
  plugins: [svelte({ compilerOptions: { runes: true } })],
  server: {
    port: Number(process.env['STAGE_PORT'] ?? 4780),
    strictPort: true,
    hmr: false,
    watch: null,
    fs: { allow: [repository] },
  },
});
