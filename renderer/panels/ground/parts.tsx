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

export function Heights() {
  return (
    <>
      <LengthField
        id="eye-height"
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
        id="target-height"
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
