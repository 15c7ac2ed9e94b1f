import { buildServers } from '../../scripts/faults/built.ts';

/** Before the first test the server is bundled once: each of its many starts then takes half a second instead of three. */
export default async function bundleServer(): Promise<void> {
  process.env.BASINBELL_BUNDLED_SERVER = (await buildServers()).server;
}
