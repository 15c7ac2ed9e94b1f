import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

const here = fileURLToPath(new URL('.', import.meta.url));
const repository = fileURLToPath(new URL('../../../../', import.meta.url));

/** Chair, pocket and sheet in every state, for looking at; no page of the product. */
export default defineConfig({
  root: here,
  cacheDir: `${repository}node_modules/.vite-chair-stage`,
  plugins: [svelte({ compilerOptions: { runes: true } })],
  server: { port: Number(process.env['STAGE_PORT'] ?? 4770), strictPort: true, fs: { allow: [repository] } },
});
