/**
 * Inks of the map. From the Okabe and Ito (2008) set for colour-blind eyes, darkened where a line needs it, plus
 * the magenta of flagging tape for what has been found. Shape, pattern or label always says it too.
 */
export const INK = {
  tape: '#b0135f',
  paper: '#ffffff',
  ink: '#1b2420',
  water: '#0b62a4',
  contour: '#7a5230',
  ridge: '#5a3d1e',
  corridor: '#d55e00',
  bench: '#8a6d00',
  cold: '#1672a8',
  cover: '#1b6b3a',
  road: '#3c3c3c',
  stone: '#6b6f6c',
  food: '#b98300',
  bedding: '#5b3a8c',
  air: '#006d77',
} as const;

export const FONT = '"Source Sans 3", sans-serif';
