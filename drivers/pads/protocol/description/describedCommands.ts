import type { PadCommand, PadModel } from '../model.ts';
import type { PadDescription } from './descriptionSchema.ts';
import { bytesOfHex } from './scalars.ts';

type Commands = NonNullable<PadDescription['commands']>;

/** Encodes a command. Throws RangeError where the description has no bytes for it. */
const encode = (commands: Commands, command: PadCommand): Uint8Array => {
  switch (command.do) {
    case 'set rate': {
      const found = commands.setRate?.find(({ rate }) => rate === command.rate);
      if (!found) throw new RangeError(`the description has no rate of ${command.rate} Hz`);
      return bytesOfHex(found.write);
    }
    case 'identify': {
      const { identify } = commands;
      if (!identify) throw new RangeError('the description has no command to identify the pad');
      const seconds = Math.max(1, Math.min(255, Math.round(command.seconds)));
      const bytes = bytesOfHex(identify.write);
      return identify.seconds ? Uint8Array.of(...bytes, seconds) : bytes;
    }
    case 'reset clock':
      if (commands.resetClock === undefined)
        throw new RangeError('the description has no command to reset the clock');
      return bytesOfHex(commands.resetClock);
  }
};

/** The control point of a described pad; null where it takes no commands. */
export const describedCommands = (description: PadDescription): PadModel['control'] => {
  const { commands } = description;
  return commands
    ? {
        at: { service: commands.service, uuid: commands.characteristic },
        encode: (command) => encode(commands, command),
      }
    : null;
};
