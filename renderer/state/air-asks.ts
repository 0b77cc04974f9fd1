import { computed, effect, signal, untracked } from '@preact/signals';
import { ahead } from './ahead.ts';
import { inquiry } from './inquiry.ts';
import { summary } from './session.ts';

/** Questions of the air. */

export const rose = inquiry('air.rose');
export const standSeason = inquiry('air.stand');
export const trails = inquiry('air.trails');
export const wayScent = inquiry('air.wayScent');
export const daySun = inquiry('ground.sun');
export const spotTurns = inquiry('air.turns');
export const hourAir = ahead('air.clock');
export const hourScent = ahead('air.scent');

/** Changes with the wind record in force; null without one. */
export const windKey = computed(() => summary.value?.wind?.key ?? null);
effect(() => {
  void windKey.value;
  untracked(() => {
    for (const asked of [rose, standSeason, trails]) asked.forget();
  });
});

/** Which page of the stage is open. */
export type AirLeaf = 'clock' | 'season' | 'deer' | 'wind' | 'night';
export const airLeaf = signal<AirLeaf>('clock');
