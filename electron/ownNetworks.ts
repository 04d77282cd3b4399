import os from 'node:os';

/** One address of this computer, IPv4. */
export interface OwnNetwork {
  /** The interface as the system calls it. */
  readonly name: string;
  readonly address: string;
  /** Bits of the network's part. */
  readonly prefix: number;
  /** Reaches this computer only. */
  readonly isInternal: boolean;
}

/** All addresses that this computer has now. */
export const ownNetworks = (): readonly OwnNetwork[] =>
  Object.entries(os.networkInterfaces()).flatMap(([name, addresses = []]) =>
    addresses.flatMap(({ family, address, cidr, internal }) =>
      family === 'IPv4' && cidr !== null
        ? [{ name, address, prefix: Number(cidr.split('/')[1]), isInternal: internal }]
        : [],
    ),
  );
