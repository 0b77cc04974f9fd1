import type { QuestionOf } from '../workers/inquiries/table.ts';
import { INQUIRIES_AT_ONCE, type Inquirer } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';
import type { Tried } from './today.ts';

/** What is tried: everything drawn as it would be, and what is asked of it. */
export type WhatIf = Omit<QuestionOf<'travel.whatIf'>, 'bands' | 'between'> & Tried;

/** Travel with everything proposed built, against today: its flows are solved side by side in as many workers as there are. */
export async function askWhatIf(
  inquirer: Inquirer,
  property: OpenProperty,
  { last, between, ...question }: WhatIf,
) {
  const { features, moment } = question;
  const bands = await Promise.all(
    Array.from({ length: INQUIRIES_AT_ONCE }, (_, index) => {
      const band = { index, count: INQUIRIES_AT_ONCE };
      const span = index === 0 ? ([0, 0.7] as const) : null;
      return inquirer.ask(property, 'travel.builtBand', { last, features, moment, band }, span);
    }),
  );
  return inquirer.ask(property, 'travel.whatIf', { ...question, between, bands }, [0.7, 1]);
}
