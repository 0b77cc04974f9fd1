import { inquiry } from './inquiry.ts';

/** Questions of the air. */

export const rose = inquiry('air.rose');
