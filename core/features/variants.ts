import type { Feature } from './feature.ts';

/** A named plan: what is proposed in it. What exists belongs to all. */
export interface Variant {
  id: string;
  name: string;
}

/** The plans kept side by side, never none, and the one that is shown and computed. */
export interface Variants {
  variants: Variant[];
  chosen: string;
}

export const ONE_PLAN: Variants = { variants: [{ id: 'plan', name: 'Plan' }], chosen: 'plan' };

/**
 * The variant a proposed feature belongs to: the one its attribute `variant` names, and the first where it names none
 * or one that is gone.
 */
function variantOf({ attributes }: Feature, { variants }: Variants): string {
  const named = variants.find(({ id }) => id === attributes.variant);
  return (named ?? variants[0]!).id;
}

/** Everything that exists, and what one variant proposes; the chosen one where none is named. */
export const inVariant = (
  features: readonly Feature[],
  plan: Variants,
  variant: string = plan.chosen,
): Feature[] =>
  features.filter((feature) => feature.status === 'existing' || variantOf(feature, plan) === variant);

/** What one variant proposes. */
export const proposedIn = (features: readonly Feature[], plan: Variants, variant: string): Feature[] =>
  features.filter((feature) => feature.status === 'proposed' && variantOf(feature, plan) === variant);

/** A feature as it is drawn: what is new and proposed goes into the chosen variant, what is built into none. */
export function intoVariant(feature: Feature, plan: Variants): Feature {
  const { variant, ...attributes } = feature.attributes;
  if (feature.status === 'existing') return variant === undefined ? feature : { ...feature, attributes };
  const known = plan.variants.some(({ id }) => id === variant);
  if (known || plan.chosen === plan.variants[0]!.id) return feature;
  return { ...feature, attributes: { ...attributes, variant: plan.chosen } };
}

/** Copies of what a variant proposes for another one; what names a copied feature names its copy. */
export function copiesFor(proposed: readonly Feature[], variant: string, newId: () => string): Feature[] {
  const ids = new Map(proposed.map(({ id }) => [id, newId()]));
  return proposed.map((feature) => ({
    ...feature,
    id: ids.get(feature.id)!,
    attributes: {
      ...Object.fromEntries(
        Object.entries(feature.attributes).map(([key, value]) => [
          key,
          typeof value === 'string' ? (ids.get(value) ?? value) : value,
        ]),
      ),
      variant,
    },
  }));
}
