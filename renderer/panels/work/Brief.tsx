import type { Brief as BriefSettings } from '../../../core/plan/types.ts';
import { changeSettings } from '../../state/editing.ts';
import { summary } from '../../state/session.ts';
import { BriefAnswers } from './BriefAnswers.tsx';
import { BriefSets } from './BriefSets.tsx';

/** Answers in words. */
type Told = Exclude<
  { [K in keyof BriefSettings]: BriefSettings[K] extends string ? K : never }[keyof BriefSettings],
  'boundary'
>;

const TEXTS: [Told, string][] = [
  ['client', 'Client'],
  ['consultant', 'Plan made by'],
  ['version', 'Version of the report'],
  ['changed', 'What changed since the last'],
  ['hunters', 'Who hunts'],
  ['times', 'When they can hunt'],
  ['parking', 'Where they park and live'],
  ['stands', 'Stands there and why they fail'],
  ['deer', 'Where big deer are seen'],
  ['neighbours', 'Neighbours and permissions'],
  ['stock', 'Stock and fences'],
  ['machines', 'Machines at hand'],
];

/** What the client says before the first walk; the report's front and the defaults of other stages come from it. */
export function Brief() {
  const brief = summary.value!.settings.brief as BriefSettings | undefined;
  if (!brief) return null;
  const set = (key: keyof BriefSettings, value: string | null) =>
    // What stands reach goes by the weapon where they do not say.
    void changeSettings({ brief: { [key]: value } }, key === 'weapon');
  const choice = (key: 'weapon' | 'boundary' | 'paper', label: string, choices: [string, string][]) => (
    <label class="field" for={`brief-${key}`}>
      <span>{label}</span>
      <select id={`brief-${key}`} onChange={(event) => set(key, event.currentTarget.value || null)}>
        {choices.map(([value, words]) => (
          <option key={value} value={value} selected={(brief[key] ?? '') === value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      {TEXTS.map(([key, label]) => (
        <label class="field" key={key} for={`brief-${key}`}>
          <span>{label}</span>
          <input
            id={`brief-${key}`}
            maxLength={2000}
            value={brief[key] ?? ''}
            autocomplete="off"
            onChange={(event) => set(key, event.currentTarget.value.trim())}
          />
        </label>
      ))}
      {choice('weapon', 'What they hunt with', [
        ['', 'not said'],
        ...(['bow', 'crossbow', 'shotgun', 'muzzleloader', 'rifle'] as const).map((w): [string, string] => [
          w,
          w,
        ]),
      ])}
      <BriefAnswers brief={brief} />
      {choice('boundary', 'The property line comes from', [
        ['drawn', 'a drawing: not a survey'],
        ['deed', 'a deed or parcel map: not a survey'],
        ['survey', 'a survey'],
      ])}
      {choice('paper', 'Paper of the report', [
        ['', 'by the units'],
        ['letter', 'letter'],
        ['A4', 'A4'],
      ])}
      <BriefSets />
    </>
  );
}
