import { type Handlers, opened } from '../context.ts';

export const scoutHandlers: Handlers<'scout.start' | 'scout.cancel'> = {
  'scout.start': async (context) => ({ run: await context.scouting.start(opened(context)) }),
  'scout.cancel': async ({ scouting }) => ({ cancelled: await scouting.cancel() }),
};
