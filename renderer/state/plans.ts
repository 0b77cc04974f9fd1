import { computed, effect, signal } from '@preact/signals';
import type { Answer, OverlaySummary, RequestName, RequestParams } from '../../electron/service/contract.ts';
import { inquiry } from './inquiry.ts';
import { notice, propertyKey, stale, tell } from './session.ts';
import { asked, necksKey, whatIf } from './travel-asks.ts';
import { stage } from './view.ts';

/** Plans kept side by side as variants, and two of them compared on the map with a divider. */

export const variants = inquiry('plan.variants');
export const comparison = inquiry('travel.compare');

type VariantRequest = Extract<RequestName, `plan.${string}Variant`>;

/** A change of the variants; the window asks anew for what they are. */
export async function changeVariants<N extends VariantRequest>(
  name: N,
  params: RequestParams<N>,
  said: string,
): Promise<Answer<N> | null> {
  const answer = await tell(name, params);
  if (!answer) return null;
  stale.value = true;
  notice.value = said;
  await variants.put({});
  return answer as Answer<N>;
}

export function comparePlans(first: string, second: string): void {
  // Two pictures of change over one another could not be read.
  whatIf.forget();
  void comparison.put({ first, second, ...asked.peek() });
}

/** What is seen of the compared plans: each on its side of the divider, or the one less the other. */
export const COMPARE_SHOWS = {
  change: 'Change against today, side by side',
  after: 'Passage, side by side',
  difference: 'Second plan less first',
} as const;
export const compareShows = signal<keyof typeof COMPARE_SHOWS>('change');

/** Where the divider stands across the map, 0..1. */
export const divider = signal(0.5);

// The other way round as well.
effect(() => {
  if (whatIf.progress.value !== null) comparison.forget();
});
// What was compared before travel or the property changed is not kept.
effect(() => {
  void necksKey.value;
  void propertyKey.value;
  comparison.forget();
});

export const isDivided = computed(
  () => stage.value === 'travel' && comparison.answer.value !== null && compareShows.value !== 'difference',
);

export const planOverlays = computed((): OverlaySummary[] => {
  const answer = stage.value === 'travel' ? comparison.answer.value : null;
  if (!answer) return [];
  const shows = compareShows.value;
  return shows === 'difference'
    ? [answer.difference]
    : [answer.first.overlays[shows], answer.second.overlays[shows]];
});

/** The side of the divider a picture is shown on; null over the whole map. */
export const sideOf = (kind: string): 'left' | 'right' | null =>
  kind.startsWith('first-') ? 'left' : kind.startsWith('second-') ? 'right' : null;
