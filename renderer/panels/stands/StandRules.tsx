import { fromTyped, type LengthKind, lengthUnit, toTyped } from '../../../core/features/units.ts';
import { WEAPONS } from '../../../core/stands/types.ts';
import type { StandSettings } from '../../../electron/service/contract.ts';
import { sourceOf } from '../../state/brief.ts';
import { changeSettings } from '../../state/editing.ts';
import { units } from '../../state/session.ts';
import { standSettings } from '../../state/stands-asks.ts';
import { Count } from './Count.tsx';

const set = (patch: Record<string, unknown>): void => void changeSettings({ stands: patch }, false);

/** Ranges, distances and habits every look from a stand rests on; local rules are empty until they are entered. */
export function StandRules() {
  const now = standSettings.value;
  if (!now) return null;
  return (
    <details class="methods hunt-rules">
      <summary>Ranges, distances and rules it rests on</summary>
      <ul class="assumptions">
        {WEAPONS.map((weapon) => (
          <Length
            key={weapon}
            id={`range-${weapon}`}
            label={`Range with a ${weapon}, where a stand does not say`}
            metres={now.range[weapon]}
            least={1}
            most={1000}
            source="common practice, no source; enter what is shot"
            put={(range) => set({ range: { [weapon]: range } })}
          />
        ))}
        {WEAPONS.map((weapon) => (
          <Length
            key={weapon}
            id={`danger-${weapon}`}
            label={`A miss with a ${weapon} is followed for`}
            metres={now.danger[weapon]}
            least={1}
            most={10_000}
            source="our assumption; a bullet can carry farther"
            put={(danger) => set({ danger: { [weapon]: danger } })}
          />
        ))}
        <Length
          id="backstop"
          label="Ground counts as close behind a deer within"
          metres={now.backstop}
          least={1}
          most={1000}
          source="our assumption"
          put={(backstop) => set({ backstop })}
        />
        <Setback what="building" label="Local least distance from a building" now={now} />
        <Setback what="road" label="Local least distance from a road" now={now} />
        <Length
          id="lane-width"
          label="A shooting lane is cut this wide"
          kind="height"
          metres={now.laneWidth}
          least={0.3}
          most={20}
          source="our assumption"
          put={(laneWidth) => set({ laneWidth })}
        />
        <Choice
          id="rules-leaves"
          label="Leaves, for verdicts and ways"
          value={now.leaves}
          choices={[
            ['off', 'down'],
            ['on', 'on the trees'],
          ]}
          put={(leaves) => set({ leaves })}
        />
        <Choice
          id="rules-dry"
          label="Leaves underfoot"
          value={now.dryLeaves ? 'dry' : 'wet'}
          choices={[
            ['dry', 'dry, the loudest'],
            ['wet', 'wet or none'],
          ]}
          put={(leaves) => set({ dryLeaves: leaves === 'dry' })}
        />
        <Choice
          id="rules-neighbour"
          label="Ways over the neighbour’s ground"
          value={now.allowNeighbour ? 'yes' : 'no'}
          choices={[
            ['no', 'never'],
            ['yes', 'allowed by the neighbour'],
          ]}
          source={sourceOf('stands.allowNeighbour', 'never without leave, our choice')}
          put={(allowed) => set({ allowNeighbour: allowed === 'yes' })}
        />
      </ul>
    </details>
  );
}

function Setback({
  what,
  label,
  now,
}: {
  what: keyof StandSettings['setback'];
  label: string;
  now: StandSettings;
}) {
  return (
    <Length
      id={`setback-${what}`}
      label={label}
      metres={now.setback[what]}
      least={0}
      most={5000}
      source="your local rule. Empty: none was looked at"
      empty={() => set({ setback: { [what]: null } })}
      put={(metres) => set({ setback: { [what]: metres } })}
    />
  );
}

/** A length in the person's units; `empty` says what a blank field does. */
function Length(props: {
  id: string;
  label: string;
  kind?: LengthKind;
  metres: number | null;
  least: number;
  most: number;
  source: string;
  empty?: () => void;
  put(metres: number): void;
}) {
  const { id, label, kind = 'distance', metres, least, most, source, empty, put } = props;
  const u = units.value;
  return (
    <Count
      id={id}
      label={label}
      unit={lengthUnit(kind, u)}
      value={metres === null ? null : Number(toTyped(metres, u, kind).toFixed(1))}
      least={toTyped(least, u, kind)}
      most={toTyped(most, u, kind)}
      source={source}
      empty={empty !== undefined}
      put={(typed) => (typed === null ? empty?.() : put(fromTyped(typed, u, kind)))}
    />
  );
}

function Choice(props: {
  id: string;
  label: string;
  value: string;
  choices: [value: string, words: string][];
  source?: string;
  put(value: string): void;
}) {
  const { id, value, choices, source, put } = props;
  return (
    <li class="assumption">
      <label for={id}>{props.label}</label>
      <span class="assumption-value">
        <select id={id} value={value} onChange={(event) => put(event.currentTarget.value)}>
          {choices.map(([each, words]) => (
            <option key={each} value={each}>
              {words}
            </option>
          ))}
        </select>
      </span>
      {source !== undefined && <span class="assumption-source">Source: {source}.</span>}
    </li>
  );
}
