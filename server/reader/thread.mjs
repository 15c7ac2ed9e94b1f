import { register } from 'tsx/esm/api';

// A thread does not take over what its process registered for TypeScript.
register();
await import('./reader-thread.ts');
