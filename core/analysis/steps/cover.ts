import { coverBlocks, distanceToEdge } from '../../cover/blocks.ts';
import { coverLayers } from '../../cover/layers.ts';
import { defineStep } from '../step.ts';

const classes = defineStep({
  name: 'cover.classes',
  version: 3,
  title: 'Reading the cover',
  needs: ['elevation', 'imagery', 'landcover', 'vegetation', 'features'],
  makes: ['cover', 'canopy', 'screening', 'footing', 'coverSource', 'coverDoubts'],
  params: () => null,
  run({ elevation, imagery, landcover, vegetation, features }, _params, progress) {
    const { cover, canopy, screening, footing, source, doubts } = coverLayers(
      elevation.frame,
      imagery,
      landcover,
      features,
      vegetation,
    );
    progress(1);
    return { cover, canopy, screening, footing, coverSource: source, coverDoubts: doubts };
  },
});

const blocks = defineStep({
  name: 'cover.blocks',
  version: 1,
  title: 'Finding blocks of cover and their edges',
  needs: ['cover'],
  makes: ['blocks', 'coverBlocks', 'edgeDistance'],
  params: () => null,
  run({ cover }, _params, progress) {
    const edgeDistance = distanceToEdge(cover);
    progress(0.4);
    const found = coverBlocks(cover);
    progress(1);
    return { blocks: found.blocks, coverBlocks: found.table, edgeDistance };
  },
});

export const coverSteps = [classes, blocks] as const;
