import type { CompareAnswer, VariantsAnswer } from '../../../electron/service/contract.ts';
import { at } from './ground.ts';

let made = 0;
let plans: VariantsAnswer = {
  chosen: 'plan',
  variants: [{ id: 'plan', name: 'Plan', proposed: [{ kind: 'barricade', count: 1 }] }],
};

const none = { pair: null, stand: null, goals: null };

/** Plans kept side by side, and two of them compared: invented numbers. */
export const planAnswers: Record<string, (params: never) => unknown> = {
  'plan.variants': () => plans,
  'plan.createVariant': ({ name, copyOf }: { name: string; copyOf: string | null }) => {
    const from = plans.variants.find(({ id }) => id === copyOf);
    const id = `variant-${++made}`;
    plans = { chosen: id, variants: [...plans.variants, { id, name, proposed: from?.proposed ?? [] }] };
    return plans;
  },
  'plan.renameVariant': ({ id, name }: { id: string; name: string }) => {
    plans = { ...plans, variants: plans.variants.map((one) => (one.id === id ? { ...one, name } : one)) };
    return plans;
  },
  'plan.removeVariant': ({ id }: { id: string }) => {
    const variants = plans.variants.filter((one) => one.id !== id);
    plans = { variants, chosen: plans.chosen === id ? variants[0]!.id : plans.chosen };
    return plans;
  },
  'plan.chooseVariant': ({ id }: { id: string }) => {
    plans = { ...plans, chosen: id };
    return plans;
  },
  'travel.compare': ({ first, second }: { first: string; second: string }): CompareAnswer => {
    const plan = (id: string, which: 'first' | 'second') => ({
      ...none,
      id,
      name: plans.variants.find((one) => one.id === id)!.name,
      overlays: {
        after: { id: `${which}-after-1`, kind: `${which}-after`, title: `Passage, ${which}` },
        change: { id: `${which}-change-1`, kind: `${which}-change`, title: `Change, ${which}` },
      },
      barricades: [],
      goal: null,
      closures: [],
      doubts: ['Nobody can say how soon deer learn a new way.'],
    });
    return {
      first: plan(first, 'first'),
      second: plan(second, 'second'),
      difference: { id: 'difference-1', kind: 'plans-difference', title: 'Second less first' },
      necks: [
        { id: 'neck-1', rank: 1, today: 0.31, first: 0.58, second: 0.31 },
        { id: 'neck-2', rank: 2, today: 0.24, first: 0.11, second: 0.22 },
      ],
      junctions: [
        {
          id: 'j1',
          at: at(180, 140),
          reach: 60,
          arms: { today: 3, first: 3, second: 0 },
          today: 0.52,
          first: 0.6,
          second: 0.1,
        },
      ],
      sentences: ['Neck 1: 58% of all travel under Plan, 31% under Plan 2, 31% today.'],
      seconds: 3,
    };
  },
};
