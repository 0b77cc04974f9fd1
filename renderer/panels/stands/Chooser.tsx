import { WEAPONS, type Weapon } from '../../../core/stands/types.ts';
import { summary } from '../../state/session.ts';
import { stands } from '../../state/stand-list.ts';
import {
  aimMove,
  aimSpot,
  chooseStand,
  chosen,
  keepTried,
  look,
  tried,
  triedAt,
} from '../../state/stands-asks.ts';
import { flyTo } from '../../state/view.ts';
import { LengthField } from '../LengthField.tsx';
import { NamedOptions } from '../options.tsx';

/** Which stand is asked about, where it is tried, and what is tried of it. */
export function Chooser() {
  const now = chosen.value;
  const isTried = triedAt.value !== null || Object.values(tried.value).some((value) => value !== null);
  return (
    <>
      <div class="ask-form">
        <label class="length" for="stand-chosen">
          <span>Stand</span>
          <select
            id="stand-chosen"
            value={now?.id ?? (triedAt.value ? 'spot' : '')}
            onChange={(event) => {
              const id = event.currentTarget.value;
              if (id === 'spot') return aimSpot();
              chooseStand(id);
              const stand = stands.value.find((each) => each.id === id);
              // The map follows without opening what was drawn.
              if (stand) flyTo(null, [stand.at], 300);
            }}
          >
            {!now && !triedAt.value && <option value="">none drawn</option>}
            <NamedOptions of={stands.value} />
            <option value="spot">a spot on the map</option>
          </select>
        </label>
        {now && (
          <button type="button" class="quiet" onClick={aimMove}>
            Try it elsewhere
          </button>
        )}
        <button type="button" class="quiet" onClick={aimSpot}>
          Try a spot
        </button>
      </div>
      {(now || triedAt.value) && <Fields />}
      {isTried && (
        <div class="steps tried">
          <p class="facts" role="status">
            {triedAt.value
              ? now
                ? 'Tried away from where it is drawn.'
                : 'A spot that is not drawn.'
              : 'Tried as you set it.'}
          </p>
          <button type="button" class="strong" onClick={keepTried}>
            {now ? 'Keep it so' : 'Propose a stand here'}
          </button>
          <button type="button" class="quiet" onClick={() => chooseStand(now?.id ?? null)}>
            Put it back
          </button>
        </div>
      )}
    </>
  );
}

/** What the brief says is hunted with. */
const usualWeapon = (): Weapon | null =>
  (summary.value?.settings.brief as { weapon: Weapon | null } | undefined)?.weapon ?? null;

/** What the stand itself says, while it was not looked at yet. */
const statedWeapon = (): Weapon | undefined =>
  WEAPONS.find((weapon) => weapon === chosen.value?.row.attributes.weapon);

function Fields() {
  const answered = look.answer.value?.reach.spot;
  // What was looked at last may be another stand.
  const spot = answered?.id === (chosen.value?.id ?? 'trial') ? answered : undefined;
  const set = (change: Partial<(typeof tried)['value']>) => {
    tried.value = { ...tried.value, ...change };
  };
  return (
    <div class="ask-form">
      <LengthField
        id="stand-seat"
        label="Seat above ground"
        kind="height"
        metres={tried.value.seatHeight ?? spot?.seatHeight ?? chosen.value?.seat ?? 5}
        least={0}
        most={30}
        set={(seatHeight) => set({ seatHeight })}
      />
      <label class="length" for="stand-weapon">
        <span>Weapon</span>
        <select
          id="stand-weapon"
          value={tried.value.weapon ?? spot?.weapon ?? statedWeapon() ?? usualWeapon() ?? 'bow'}
          onChange={(event) => set({ weapon: event.currentTarget.value as Weapon, range: null })}
        >
          {WEAPONS.map((weapon) => (
            <option key={weapon} value={weapon}>
              {weapon}
            </option>
          ))}
        </select>
      </label>
      {spot && (
        <LengthField
          id="stand-range"
          label="Range you keep to"
          kind="distance"
          metres={tried.value.range ?? spot.range}
          least={1}
          most={1000}
          set={(range) => set({ range })}
        />
      )}
    </div>
  );
}
