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
  const bands = await builtBands(inquirer, property, { last, ...question });
  return inquirer.ask(property, 'travel.whatIf', { ...question, between, bands }, [0.7, 1]);
}

/** The flows with everything proposed built, in bands for `joinBuilt`. */
export const builtBands = (
  inquirer: Inquirer,
  property: OpenProperty,
  { last, features, moment }: Pick<WhatIf, 'last' | 'features' | 'moment'>,
) =>
  Promise.all(
    Array.from({ length: INQUIRIES_AT_ONCE }, (_, index) => {
      const band = { index, count: INQUIRIES_AT_ONCE };
      const span = index === 0 ? ([0, 0.7] as const) : null;
      return inquirer.ask(property, 'travel.builtBand', { last, features, moment, band }, span);
    }),
  );
