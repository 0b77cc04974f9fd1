import { heights } from '../../state/ground-asks.ts';
import { LengthField } from '../LengthField.tsx';

/** What several questions of the ground share. */

export function PutAway({ of }: { of: { forget(): void }[] }) {
  return (
    <button
      type="button"
      class="quiet small"
      onClick={() => {
        for (const one of of) one.forget();
      }}
    >
      Take off the map
    </button>
  );
}

/** `prefix` keeps the fields' ids apart where two of these are on the screen. */
export function Heights({ prefix = '' }: { prefix?: string }) {
  return (
    <>
      <LengthField
        id={`${prefix}eye-height`}
        label="Eye above ground"
        kind="height"
        metres={heights.value.observer}
        least={0}
        most={200}
        set={(observer) => {
          heights.value = { ...heights.value, observer };
        }}
      />
      <LengthField
        id={`${prefix}target-height`}
        label="What it looks for"
        kind="height"
        metres={heights.value.target}
        least={0}
        most={200}
        set={(target) => {
          heights.value = { ...heights.value, target };
        }}
      />
    </>
  );
}
