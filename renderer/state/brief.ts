import { computed, effect, signal } from '@preact/signals';
import type { BriefDefault } from '../../electron/service/contract.ts';
import { ask, propertyKey, report, summary, tell } from './session.ts';

/** What the answers of the brief set elsewhere, asked for again when a setting or a feature changes. */

const loaded = signal<{ of: string; rows: BriefDefault[] } | null>(null);
const key = computed(() => {
  const property = summary.value;
  if (!property) return null;
  const features = property.tables.find(({ name }) => name === 'features')?.key;
  const { brief, hunt, stands, plan } = property.settings;
  return JSON.stringify([propertyKey.value, features, brief, hunt, stands, plan, property.units]);
});

effect(() => {
  const now = key.value;
  if (now === null) return;
  ask('brief.defaults', {}).then((rows) => {
    if (key.peek() === now) loaded.value = { of: now, rows };
  }, report);
});

/** The rows as last known: while they are asked for anew those of before stay, so that nothing jumps. */
export const briefRows = computed((): readonly BriefDefault[] => loaded.value?.rows ?? []);

/** Where a setting comes from: the brief, where it asked for what is set, else as told. */
export const sourceOf = (setting: string, otherwise: string): string =>
  briefRows.value.some(({ key: row, fromBrief }) => row === setting && fromBrief) ? 'the brief' : otherwise;

export async function takeFromBrief(setting: string): Promise<void> {
  const answer = await tell('brief.take', { key: setting });
  if (answer) summary.value = answer;
}
