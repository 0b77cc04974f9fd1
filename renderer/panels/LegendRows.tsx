import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Legend, OverlaySummary } from '../../electron/service/contract.ts';
import { ask, report, units } from '../state/session.ts';
import type { TileLayer } from '../state/stages.ts';

const legends = signal<Record<string, Legend>>({});

export type LegendOf = { version: string } & ({ layer: TileLayer } | { overlay: string });

/** A ramp's top may follow the data and the units, so a legend is asked for again when either changed. */
export function LegendRows({ of }: { of: LegendOf }) {
  const { version } = of;
  useEffect(() => {
    if (version in legends.value) return;
    const asked =
      'layer' in of
        ? ask('map.legend', { layer: of.layer })
        : ask('map.overlayLegend', { overlay: of.overlay });
    asked.then((answer) => {
      legends.value = { ...legends.value, [version]: answer };
    }, report);
  }, [version]);
  const legend = legends.value[version];
  if (!legend) return null;
  if (isRamp(legend)) return <RampRow legend={legend} />;
  return (
    <ul class="legend" aria-label={`${legend.title}${legend.unit ? `, ${legend.unit}` : ''}`}>
      {legend.entries.map((entry) => (
        <li key={entry.label}>
          <span class={`swatch ${entry.pattern ?? ''}`} style={{ backgroundColor: entry.colour }} />
          {entry.label}
        </li>
      ))}
      {legend.unit && <li class="legend-unit">{legend.unit}</li>}
    </ul>
  );
}

/** The legend of a picture an answer laid over the map, beside that answer: the card of layers may be folded. */
export const OverlayLegend = ({ of }: { of: OverlaySummary }) => (
  <LegendRows of={{ version: `overlay ${of.id} ${units.value}`, overlay: of.id }} />
);

/** Stops of a ramp are told by their number labels; classes have names. */
const isRamp = ({ entries }: Legend): boolean => entries.every(({ label }) => /^[<>−-]?\s?\d/.test(label));

/** A ramp as one strip, low on the left, with a label under each stop. */
function RampRow({ legend }: { legend: Legend }) {
  return (
    <div class="ramp">
      <ul class="ramp-stops" aria-label={`${legend.title}${legend.unit ? `, ${legend.unit}` : ''}`}>
        {legend.entries.map((entry) => (
          <li key={entry.label}>
            <span class={`swatch ${entry.pattern ?? ''}`} style={{ backgroundColor: entry.colour }} />
            <span>{entry.label}</span>
          </li>
        ))}
      </ul>
      {legend.unit && <p class="legend-unit">{legend.unit}</p>}
    </div>
  );
}
