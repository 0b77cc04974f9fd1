import { withBrief } from '../../../core/analysis/brief-defaults.ts';
import { laidOver, type Settings } from '../../../core/analysis/settings.ts';
import { intoVariant } from '../../../core/features/variants.ts';
import { checkSettings } from '../../readers/settings.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { PropertySummary } from '../contract.ts';
import { checkFeature } from '../features.ts';
import { type OpenProperty, refresh } from '../open-property.ts';
import { summarize } from '../summary.ts';

export async function edit(
  context: ServiceContext,
  change: (property: OpenProperty) => Promise<unknown>,
): Promise<PropertySummary> {
  const property = opened(context);
  await change(property);
  await refresh(property);
  const summary = summarize(property);
  context.emit({ type: 'property.changed', summary });
  return summary;
}

/**
 * Lays a patch over the settings, section by section to any depth, with what it brings about where it changes the brief.
 * A weight or rate of null goes back to the default.
 */
export function patched(settings: Settings, patch: Record<string, unknown>): Settings {
  const next = laidOver(settings, withBrief(settings, patch)) as Record<string, unknown>;
  const { plan } = next;
  next.weights = withoutNull(next.weights);
  if (plan && typeof plan === 'object' && 'rates' in plan)
    next.plan = { ...plan, rates: withoutNull(plan.rates) };
  return checkSettings(next, 'the settings');
}

/** What is taken back by a null goes by its table again. */
const withoutNull = (numbers: unknown): unknown =>
  numbers && typeof numbers === 'object'
    ? Object.fromEntries(Object.entries(numbers).filter(([, number]) => number !== null))
    : numbers;

export const editHandlers: Handlers<
  | 'settings.change'
  | 'features.put'
  | 'features.putAll'
  | 'features.remove'
  | 'notes.picture'
  | 'edit.undo'
  | 'edit.redo'
> = {
  'settings.change': (context, { patch }) =>
    edit(context, ({ store, input }) => store.changeSettings(patched(input.settings, patch))),

  'features.put': async (context, { feature }) => {
    const checked = checkFeature(feature);
    return edit(context, ({ store, input }) => store.putFeature(intoVariant(checked, input.settings.plans)));
  },

  'features.putAll': async (context, { label, features }) => {
    const checked = features.map(checkFeature);
    return edit(context, ({ store, input }) =>
      store.change(
        label,
        checked.map((feature) => ({ type: 'put', feature: intoVariant(feature, input.settings.plans) })),
      ),
    );
  },

  'features.remove': (context, { id }) => edit(context, ({ store }) => store.removeFeature(id)),
  'notes.picture': async (context, { id }) =>
    (await opened(context).store.media(id))?.bytes ?? new Uint8Array(),
  'edit.undo': (context) => edit(context, ({ store }) => store.undo()),
  'edit.redo': (context) => edit(context, ({ store }) => store.redo()),
};
