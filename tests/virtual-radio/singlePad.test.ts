import { test } from 'vitest';
import { expectOnePadServed } from './singlePad.ts';

test('one pad on our virtual controllers', () => expectOnePadServed('virtual', -52), 60_000);
