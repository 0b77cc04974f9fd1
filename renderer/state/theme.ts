import { computed, signal } from '@preact/signals';
import { theme } from './view.ts';

const system = window.matchMedia('(prefers-color-scheme: dark)');
const systemDark = signal(system.matches);
system.addEventListener('change', ({ matches }) => {
  systemDark.value = matches;
});

/** The theme drawn now: the person's own choice, else the system's. */
export const shownTheme = computed(() =>
  theme.value === 'auto' ? (systemDark.value ? 'dark' : 'light') : theme.value,
);
