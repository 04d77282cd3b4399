import { expect, test } from 'vitest';
import {
  COMMON_CAR_STATE,
  EXAMPLE_CAR_STATE,
  UNCHECKED_CAR_STATE,
} from '../../../core/sheet/carState.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

test('what a crew agreed is kept; what was said in practice is not taken for its own', async () => {
  const dir = temporaryFolder();
  const first = startPracticeBench({ dir, source: 'rig' });
  const ask = async (command: Parameters<typeof first.screen.command>[0]): Promise<void> => {
    await first.settle(first.screen.command(command));
    await first.run(0.1);
  };
  expect(first.screen.state).toMatchObject({
    carState: EXAMPLE_CAR_STATE,
    agreedCarState: EXAMPLE_CAR_STATE,
  });
  await ask({ do: 'set car state', state: { ...EXAMPLE_CAR_STATE, fuelMass: 41 } });
  expect(first.screen.state.carState.fuelMass).toBe(41);

  await ask({ do: 'choose pads', source: 'bluetooth' });
  expect(first.screen.state).toMatchObject({
    carState: UNCHECKED_CAR_STATE,
    agreedCarState: COMMON_CAR_STATE,
  });
  const ours = { ...COMMON_CAR_STATE, seatMass: 76.5, fuelMass: 12 };
  await ask({ do: 'set car state', state: ours });
  await ask({ do: 'agree car state', state: ours });

  await ask({ do: 'choose pads', source: 'rig' });
  expect(first.screen.state.carState.fuelMass).toBe(41);
  expect(first.screen.state.agreedCarState).toEqual(EXAMPLE_CAR_STATE);
  await first.stop();

  const again = startPracticeBench({ dir, source: 'bluetooth', restarted: true });
  expect(again.screen.state).toMatchObject({ carState: ours, agreedCarState: ours });
  await again.stop();
});
