/** When the server's time cannot be trusted, and when a head was left. */
export const lost = {
  title: 'The clock was lost: look at the hair now.',
  ask: 'The server does not know how long it was away. What time is it? Compare with a watch.',
  yes: (clock: string) => `It is ${clock}`,
  away: (span: string) => `away for ${span}`,
  less: 'One minute earlier',
  more: 'One minute later',
} as const;

export const unattended = {
  ask: 'Nobody has touched this head for over six hours. Is the client still here?',
  there: 'Still here',
  gone: 'Gone: end the visit',
} as const;
