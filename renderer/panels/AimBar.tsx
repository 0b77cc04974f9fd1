import { aim, aimed, stopAim, takeAim } from '../state/aiming.ts';
import { PositionForm } from './PositionForm.tsx';

/** Shown while a question waits for a place on the map. */
export function AimBar() {
  const now = aim.value;
  if (!now) return null;
  return (
    <section class="card draw-bar" aria-label={`Asking: ${now.title}`}>
      <p class="draw-words">
        <strong>{now.title}</strong> <span role="status">{now.places[aimed.value.length]}</span>
      </p>
      <div class="draw-buttons">
        <button type="button" class="quiet" onClick={stopAim}>
          Stop asking
        </button>
        <PositionForm label="Take this place" put={takeAim} />
      </div>
      <p class="hint">With the map in focus: Space takes the place at the cross, Escape stops.</p>
    </section>
  );
}
