import { signal } from '@preact/signals';
import { rose } from '../../state/air-asks.ts';
import { CRUISING_WEEKS, SeasonPicker, seasonOf } from './SeasonPicker.tsx';

const choice = signal(CRUISING_WEEKS);

/** Counts the wind of the season chosen. */
export function countWind(): void {
  const season = seasonOf(choice.value);
  void rose.put(season === undefined ? {} : { season });
}

/** Which days of the year are counted. */
export function SeasonForm() {
  return (
    <form
      class="ask-form"
      onSubmit={(event) => {
        event.preventDefault();
        countWind();
      }}
    >
      <SeasonPicker
        id="rose"
        choice={choice}
        year
        changed={() => {
          if (rose.asked.peek()) countWind();
        }}
      />
      <button type="submit" class="quiet">
        Count the wind
      </button>
    </form>
  );
}
