/** The server as a child of the model day: it ends, in good order, with the process that started it. */
process.once('disconnect', () => process.kill(process.pid, 'SIGTERM'));
process.channel?.unref();

// Only now: a start that takes long must not miss its parent's end.
await import('../../server/main.ts');

export {};
