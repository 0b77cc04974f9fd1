import type { Signal } from '@preact/signals';

/** A day, YYYY-MM-DD; an emptied field leaves it as it was. */
export function DayField({ id, day }: { id: string; day: Signal<string> }) {
  return (
    <label class="length" for={id}>
      <span>Day</span>
      <input
        id={id}
        type="date"
        required
        value={day.value}
        onChange={(event) => {
          if (event.currentTarget.value) day.value = event.currentTarget.value;
        }}
      />
    </label>
  );
}
