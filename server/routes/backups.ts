import type { FastifyInstance } from 'fastify';
import { backupsTold } from '../../shared/schemas/wire.ts';
import type { BackupsTold } from '../../shared/wire.ts';

const schema = { summary: 'Where backups go', tags: ['health'], response: { 200: backupsTold } };

/** When the newest was made, and what is wrong, is in every heartbeat. */
export function backupsRoute(app: FastifyInstance, told: () => BackupsTold | null): void {
  app.get('/api/v1/backups', { schema }, (_request, reply) => reply.send(told()));
}
