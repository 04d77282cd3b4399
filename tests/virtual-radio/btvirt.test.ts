import { afterAll, beforeAll } from 'vitest';
import { needs } from '../support/needs.ts';
import { btvirtLacks, startBtvirt } from './btvirt.ts';
import { expectOnePadServed } from './singlePad.ts';

const lacks = btvirtLacks();
const machine = needs({
  has: lacks.length === 0,
  reason: `missing: ${lacks.join(', ')} (Debian: bluez-test-tools, gcc, libc6-dev)`,
});

machine.describe('on BlueZ’s own emulator', () => {
  let stop: () => Promise<void> = () => Promise.resolve();
  beforeAll(async () => {
    stop = await startBtvirt();
  });
  afterAll(() => stop());

  machine.test('one pad', () => expectOnePadServed('btvirt', null), 60_000);
});
