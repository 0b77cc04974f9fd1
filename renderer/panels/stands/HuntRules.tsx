import { MILE, MPH } from '../../../core/features/units.ts';
import { sourceOf } from '../../state/brief.ts';
import { changeSettings } from '../../state/editing.ts';
import { units } from '../../state/session.ts';
import { hunt } from '../../state/stands-when.ts';
import { LengthField } from '../LengthField.tsx';
import { Count } from './Count.tsx';

/** What can be chosen of the day. */
const PARTS: [string, string][] = [
  ['all of the day', 'before sunrise,morning,midday,evening'],
  ['mornings', 'before sunrise,morning'],
  ['evenings', 'evening'],
  ['mornings and evenings', 'before sunrise,morning,evening'],
];
const KILOMETRE = 1000;

const set = (patch: Record<string, unknown>): void => void changeSettings({ hunt: patch }, false);

/** Hours, dates and rules that verdicts rest on; each can be set, and says where its usual value comes from. */
export function HuntRules() {
  const now = hunt.value;
  if (!now) return null;
  const speed = units.value === 'us' ? MPH : 1;
  const far = units.value === 'us' ? MILE : KILOMETRE;
  return (
    <details class="methods hunt-rules">
      <summary>Hours, dates and rules it rests on</summary>
      <ul class="assumptions">
        <Count
          id="light-before"
          label="Legal light starts before sunrise"
          unit="minutes"
          value={now.lightBefore}
          most={120}
          source="your state’s rule. Empty: hours start at sunrise"
          empty
          put={(lightBefore) => set({ lightBefore })}
        />
        <Count
          id="light-after"
          label="Legal light ends after sunset"
          unit="minutes"
          value={now.lightAfter}
          most={120}
          source="your state’s rule. Empty: hours end at sunset"
          empty
          put={(lightAfter) => set({ lightAfter })}
        />
        <Day
          id="hunt-from"
          label="Hours are counted from"
          value={now.season.from}
          source={sourceOf('hunt.season', 'the weeks bucks cruise, our choice; enter your season')}
          put={(from) => from && set({ season: { ...now.season, from } })}
        />
        <Day
          id="hunt-to"
          label="until"
          value={now.season.to}
          source="as above"
          put={(to) => to && set({ season: { ...now.season, to } })}
        />
        <Day
          id="rut-peak"
          label="Most does are bred here about"
          value={now.rutPeak}
          source="your local date. Empty: taken from the latitude where that is known"
          empty
          put={(rutPeak) => set({ rutPeak })}
        />
        <Count
          id="walk-longest"
          label="Whoever hunts walks at most"
          unit={units.value === 'us' ? 'miles' : 'km'}
          value={now.legs.longest === null ? null : Number((now.legs.longest / far).toFixed(2))}
          least={50 / far}
          most={50_000 / far}
          source={sourceOf('hunt.legs.longest', 'nobody said. Empty: no limit')}
          empty
          put={(longest) => set({ legs: { longest: longest === null ? null : longest * far } })}
        />
        <Count
          id="walk-pace"
          label="and as fast as Tobler’s walker on the same slope by"
          unit="%"
          value={Math.round(now.legs.pace * 100)}
          least={20}
          most={200}
          source={sourceOf('hunt.legs.pace', 'Tobler 1993 at 100')}
          put={(pace) => pace !== null && set({ legs: { pace: pace / 100 } })}
        />
        <li class="assumption">
          <label for="hunted-parts">Parts of the day that are hunted</label>
          <select
            id="hunted-parts"
            value={now.parts.join()}
            onChange={(event) => set({ parts: event.currentTarget.value.split(',') })}
          >
            {PARTS.map(([words, parts]) => (
              <option key={words} value={parts}>
                {words}
              </option>
            ))}
          </select>
          <span class="assumption-source">Source: {sourceOf('hunt.parts', 'all of them, our choice')}.</span>
        </li>
        <Count
          id="rest-days"
          label="A stand rests after a sit"
          unit="days"
          value={now.rest}
          most={60}
          source="our assumption"
          whole
          put={(rest) => rest !== null && set({ rest })}
        />
        <Count
          id="sit-hours"
          label="A sit lasts at most"
          unit="hours"
          value={now.sit}
          least={0.5}
          most={14}
          source="our assumption"
          put={(sit) => sit !== null && set({ sit })}
        />
        <Count
          id="settle-minutes"
          label="Seated and quiet ahead of the first light or deer by"
          unit="minutes"
          value={now.settle}
          most={180}
          source="our assumption"
          put={(settle) => settle !== null && set({ settle })}
        />
        <Count
          id="deer-pace"
          label="Deer that are not pushed walk"
          unit={units.value === 'us' ? 'mph' : 'm/s'}
          value={Number((now.pace / speed).toFixed(2))}
          least={0.1 / speed}
          most={3 / speed}
          source="our assumption"
          put={(pace) => pace !== null && set({ pace: pace * speed })}
        />
        <Count
          id="spoilt-share"
          label="Of the travel that would come in reach, at most this much may meet the scent first"
          unit="%"
          value={Math.round(now.spoilt * 100)}
          most={100}
          source="our assumption"
          put={(share) => share !== null && set({ spoilt: share / 100 })}
        />
        <Count
          id="alarm-share"
          label="Of all travel, at most this much may meet the scent anywhere"
          unit="%"
          value={Math.round(now.alarm * 100)}
          most={100}
          source="our assumption"
          put={(share) => share !== null && set({ alarm: share / 100 })}
        />
        <li class="assumption">
          <LengthField
            id="sit-apart"
            label="Stands nearer than this are not sat together"
            kind="distance"
            metres={now.apart}
            least={0}
            most={5000}
            set={(apart) => set({ apart })}
          />
          <span class="assumption-source">Source: our assumption.</span>
        </li>
      </ul>
    </details>
  );
}

/** A day of any year. */
function Day(props: {
  id: string;
  label: string;
  value: string | null;
  source: string;
  empty?: boolean;
  put(value: string | null): void;
}) {
  const { id, value } = props;
  return (
    <li class="assumption">
      <label for={id}>{props.label}</label>
      <span class="assumption-value">
        <input
          id={id}
          value={value ?? ''}
          key={value}
          pattern="(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
          placeholder={props.empty ? 'not entered' : 'MM-DD'}
          autocomplete="off"
          aria-describedby={`${id}-source`}
          onChange={(event) => {
            const { value: typed, validity } = event.currentTarget;
            if (typed === '' && props.empty) props.put(null);
            else if (typed !== '' && validity.valid) props.put(typed);
            else event.currentTarget.value = value ?? '';
          }}
        />
        <span class="unit">month-day</span>
      </span>
      <span class="assumption-source" id={`${id}-source`}>
        Source: {props.source}.
      </span>
    </li>
  );
}
