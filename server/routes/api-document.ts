import swagger from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransform } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { hookPosts } from './hooks.ts';
import { BodyRefused } from './problems.ts';

/** Requests are judged by the wire's schemas, and the same schemas are what `openapi.json` tells. */
export async function describeApi(app: FastifyInstance): Promise<void> {
  app.setValidatorCompiler<z.ZodType>(({ schema }) => (data) => {
    const parsed = schema.safeParse(data);
    return parsed.success ? { value: parsed.data } : { error: new BodyRefused(parsed.error) };
  });
  // What leaves is typed already, and is not looked at twice.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Basinbell',
        version: '1',
        description:
          'Facts of a salon’s floor and the commands that change it. Instants are epoch milliseconds on the server’s ' +
          'timescale; add civilOffsetMs for what people are shown. Refusals are RFC 9457 problem documents.',
      },
      webhooks: hookPosts,
    },
    transform: jsonSchemaTransform,
  });
  app.get('/api/v1/openapi.json', { schema: { hide: true } }, () => app.swagger());
}
