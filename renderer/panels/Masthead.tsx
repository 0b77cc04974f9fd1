import { canRedo, canUndo, changeSettings, redo, undo } from '../state/editing.ts';
import { run, stale, startScout, summary, tell } from '../state/session.ts';
import { startOpen, type Theme, theme } from '../state/view.ts';
import { duration } from '../words/duration.ts';
import { Glyph } from './Glyph.tsx';

export function Masthead() {
  const property = summary.value;
  return (
    <header class="masthead">
      <p class="brand">
        <Glyph name="mark" size={26} /> <span class="wordmark">Hollowgate</span>
      </p>
      {property && (
        <>
          <h1 class="property">{property.name}</h1>
          {property.invented && <strong class="invented">INVENTED EXAMPLE</strong>}
        </>
      )}
      <div class="run-place">{property && (run.value ? <Progress /> : <ScoutButton />)}</div>
      {property && (
        <fieldset class="cluster" aria-label="Edits">
          <button
            type="button"
            class="quiet icon"
            disabled={!canUndo.value}
            onClick={undo}
            title="Undo (Ctrl+Z)"
          >
            <Glyph name="undo" />
            <span class="unseen">Undo</span>
          </button>
          <button
            type="button"
            class="quiet icon"
            disabled={!canRedo.value}
            onClick={redo}
            title="Redo (Ctrl+Shift+Z)"
          >
            <Glyph name="redo" />
            <span class="unseen">Redo</span>
          </button>
        </fieldset>
      )}
      {property && (
        <label class="pick">
          <span class="unseen">Units</span>
          <select
            value={property.units}
            onChange={(event) => changeSettings({ units: event.currentTarget.value }, false)}
          >
            <option value="us">yards, acres</option>
            <option value="metric">metres, ha</option>
          </select>
        </label>
      )}
      <label class="pick">
        <span class="unseen">Theme</span>
        <select
          value={theme.value}
          onChange={(event) => {
            theme.value = event.currentTarget.value as Theme;
          }}
        >
          <option value="auto">Theme: system</option>
          <option value="light">Theme: day</option>
          <option value="dark">Theme: night</option>
        </select>
      </label>
      {property && (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            startOpen.value = true;
          }}
        >
          Open…
        </button>
      )}
    </header>
  );
}

function ScoutButton() {
  const fresh = !stale.value && (summary.value?.layers.length ?? 0) > 2;
  return (
    <div class="run">
      {stale.value && <span class="stale">The ground has changed since the last run.</span>}
      <button type="button" class={fresh ? 'quiet' : 'strong'} onClick={startScout}>
        {fresh ? 'Scout again' : 'Scout'}
      </button>
    </div>
  );
}

function Progress() {
  const { doing, fraction, remaining } = run.value!;
  const share = Math.round(fraction * 100);
  return (
    <div class="run">
      <div class="run-words">
        <span>{doing}</span>
        <span class="run-left">
          {share} %{remaining !== null && remaining > 1 ? `, ${duration(remaining)} left` : ''}
        </span>
        <div
          class="bar"
          role="progressbar"
          aria-label="Scouting"
          aria-valuemin={0}
          aria-valuemax={100}
          aria-valuenow={share}
          aria-valuetext={`${doing}, ${share} percent`}
        >
          <div class="bar-done" style={{ width: `${share}%` }} />
        </div>
      </div>
      <button type="button" class="quiet" onClick={() => tell('scout.cancel', {})}>
        Stop
      </button>
    </div>
  );
}
