import type { Handlers } from '../context.ts';

export const askHandlers: Handlers<'ask.cancel'> = {
  'ask.cancel': async ({ inquiring }, { ask }) => ({ cancelled: inquiring.cancel(ask) }),
};
