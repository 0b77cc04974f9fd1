import { MPH } from '../../../core/features/units.ts';
import { changeSettings } from '../../state/editing.ts';
import { units } from '../../state/session.ts';
import { hunt } from '../../state/stands-when.ts';
import { LengthField } from '../LengthField.tsx';
import { Count } from './Count.tsx';

const set = (patch: Record<string, unknown>): void => void changeSettings({ hunt: patch }, false);

/** Hours, dates and rules that verdicts rest on; each can be set, and says where its usual value comes from. */
export function HuntRules() {
  const now = hunt.value;
  if (!now) return null;
  const speed = units.value === 'us' ? MPH : 1;
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
          source="the weeks bucks cruise, our choice; enter your season"
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
