import { randomUUID } from 'node:crypto';
import type { Settings } from '../../../core/analysis/settings.ts';
import { formatShare } from '../../../core/features/units.ts';
import {
  copiesFor,
  inVariant,
  proposedIn,
  type Variant,
  type Variants,
} from '../../../core/features/variants.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { barricadeSentences } from '../../../core/travel/barricade-words.ts';
import { checkSettings } from '../../readers/settings.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { CompareAnswer, PlanAnswer, VariantsAnswer } from '../contract.ts';
import type { OpenProperty } from '../open-property.ts';
import { keepOverlay } from '../overlays.ts';
import { momentOf, triedOf } from '../today.ts';
import { askedOf, sayAsked } from '../travel-asked.ts';
import { edit } from './edit.ts';

/** Smaller shifts of a share than this are not told. */
const NOTHING = 0.005;
const MOST_TOLD = 5;

function answer({ head }: OpenProperty): VariantsAnswer {
  const { plans: plan } = head.settings;
  return {
    chosen: plan.chosen,
    variants: plan.variants.map(({ id, name }) => {
      const counts = new Map<string, number>();
      for (const { kind } of proposedIn(head.features, plan, id))
        counts.set(kind, (counts.get(kind) ?? 0) + 1);
      return { id, name, proposed: [...counts].map(([kind, count]) => ({ kind, count })) };
    }),
  };
}

/** @throws Problem when it is gone */
function variantNamed({ input }: OpenProperty, id: string): Variant {
  const found = input.settings.plans.variants.find((variant) => variant.id === id);
  if (found) return found;
  throw new Problem('That variant of the plan is not there any more.', { fix: 'Choose another variant.' });
}

/** @throws Problem when another variant has the name */
function checkName({ input }: OpenProperty, name: string, id: string | null = null): void {
  const { variants } = input.settings.plans;
  if (variants.some((variant) => variant.id !== id && variant.name === name))
    throw new Problem(`There is a variant called “${name}” already.`, { fix: 'Give it another name.' });
}

type Change = Parameters<OpenProperty['store']['change']>[1][number];

/** One edit of the plans and of what they propose. */
async function changePlan(
  context: ServiceContext,
  label: string,
  plan: Variants,
  changes: Change[] = [],
): Promise<VariantsAnswer> {
  const { settings } = opened(context).input;
  const next: Settings = checkSettings({ ...settings, plans: plan }, 'the settings');
  await edit(context, ({ store }) => store.change(label, [...changes, { type: 'settings', settings: next }]));
  return answer(opened(context));
}

export const variantHandlers: Handlers<
  | 'plan.variants'
  | 'plan.createVariant'
  | 'plan.renameVariant'
  | 'plan.removeVariant'
  | 'plan.chooseVariant'
  | 'travel.compare'
> = {
  'plan.variants': async (context) => answer(opened(context)),

  'plan.createVariant': async (context, { name, copyOf }) => {
    const property = opened(context);
    const { plans: plan } = property.input.settings;
    checkName(property, name);
    const from = copyOf === null ? null : variantNamed(property, copyOf);
    const id = `variant-${randomUUID()}`;
    const copies = from ? copiesFor(proposedIn(property.head.features, plan, from.id), id, randomUUID) : [];
    return changePlan(
      context,
      from ? `Copy the plan ${from.name}` : `New plan ${name}`,
      { variants: [...plan.variants, { id, name }], chosen: id },
      copies.map((feature) => ({ type: 'put', feature })),
    );
  },

  'plan.renameVariant': async (context, { id, name }) => {
    const property = opened(context);
    const { plans: plan } = property.input.settings;
    const old = variantNamed(property, id);
    checkName(property, name, id);
    const variants = plan.variants.map((variant) => (variant.id === id ? { id, name } : variant));
    return changePlan(context, `Rename the plan ${old.name}`, { ...plan, variants });
  },

  'plan.removeVariant': async (context, { id }) => {
    const property = opened(context);
    const { plans: plan } = property.input.settings;
    const old = variantNamed(property, id);
    const variants = plan.variants.filter((variant) => variant.id !== id);
    if (variants.length === 0)
      throw new Problem('The last variant of the plan cannot be taken away.', {
        fix: 'Remove what it proposes, or make another variant first.',
      });
    return changePlan(
      context,
      `Remove the plan ${old.name}`,
      { variants, chosen: plan.chosen === id ? variants[0]!.id : plan.chosen },
      proposedIn(property.head.features, plan, id).map((feature) => ({ type: 'remove', id: feature.id })),
    );
  },

  'plan.chooseVariant': async (context, { id }) => {
    const property = opened(context);
    const { plans: plan } = property.input.settings;
    const { name } = variantNamed(property, id);
    return plan.chosen === id
      ? answer(property)
      : changePlan(context, `Choose the plan ${name}`, { ...plan, chosen: id });
  },

  'travel.compare': async (context, { first, second, ...params }) => {
    const property = opened(context);
    const { settings } = property.input;
    const variants = [variantNamed(property, first), variantNamed(property, second)] as const;
    if (first === second)
      throw new Problem('Both variants are the same.', { fix: 'Choose two variants to compare.' });
    const started = performance.now();
    const asked = askedOf(property, params);
    triedOf(property);
    const of = (variant: string) => inVariant(property.head.features, settings.plans, variant);
    const found = await context.inquiring.ask(property, 'travel.compare', {
      moment: momentOf(property),
      plans: { first: of(first), second: of(second) },
      asked,
    });
    const ranks = new Map((property.artifacts.necks ?? []).map(({ id, rank }) => [id, rank]));
    const planAnswer = (which: 'first' | 'second'): PlanAnswer => {
      const variant = variants[which === 'first' ? 0 : 1];
      const { asked: answers, barricades, goal, closures, doubts } = found[which];
      const { grids } = found;
      return {
        ...variant,
        ...sayAsked(property, asked, answers),
        overlays: {
          after: keepOverlay(property, `${which}-after`, `Passage under ${variant.name}`, grids[which]),
          change: keepOverlay(
            property,
            `${which}-change`,
            `Change of passage under ${variant.name}`,
            grids[`${which}Change`],
          ),
        },
        barricades: barricades.map((check) => ({
          ...check,
          sentences: barricadeSentences(check, settings.units),
        })),
        goal,
        closures,
        doubts,
      };
    };
    const necks = found.necks.map((neck) => ({ ...neck, rank: ranks.get(neck.id) ?? 0 }));
    return {
      first: planAnswer('first'),
      second: planAnswer('second'),
      difference: keepOverlay(
        property,
        'plans-difference',
        `${variants[1].name} less ${variants[0].name}`,
        found.grids.difference,
      ),
      necks,
      junctions: found.junctions,
      sentences: compareSentences(variants, necks),
      seconds: (performance.now() - started) / 1000,
    };
  },
};

/** Where the two plans differ most. */
function compareSentences(
  [one, other]: readonly [Variant, Variant],
  necks: CompareAnswer['necks'],
): string[] {
  const told = necks
    .filter(({ first, second }) => Math.abs(second - first) >= NOTHING)
    .sort((a, b) => Math.abs(b.second - b.first) - Math.abs(a.second - a.first))
    .slice(0, MOST_TOLD)
    .map(
      ({ rank, today, first, second }) =>
        `Neck ${rank}: ${formatShare(first)} of all travel under ${one.name}, ${formatShare(second)} under ${other.name}, ${formatShare(today)} today.`,
    );
  return told.length > 0 ? told : ['No neck’s share differs between the two.'];
}
