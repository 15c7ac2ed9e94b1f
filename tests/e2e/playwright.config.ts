import { defineConfig } from '@playwright/test';

const executablePath = process.env['BASINBELL_CHROMIUM'];
const asRoot = process.getuid?.() === 0;

export default defineConfig({
  testDir: '.',
  globalSetup: './bundled-server.ts',
  outputDir: '../../test-results',
  // Two cores: each test drives several browsers and a server, and spends much of its time waiting for one of them.
  workers: 2,
  retries: 0,
  forbidOnly: true,
  timeout: 120_000,
  expect: { timeout: 15_000 },
  reporter: 'list',
  use: {
    headless: true,
    viewport: { width: 1280, height: 800 },
    launchOptions: {
      ...(executablePath === undefined ? {} : { executablePath }),
      args: [
        ...(asRoot ? ['--no-sandbox'] : []),
        '--disable-gpu',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
