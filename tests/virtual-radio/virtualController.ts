import {
  advertisingReport,
  COMMAND,
  commandComplete,
  commandStatus,
  completedPackets,
  connectionComplete,
  disconnectionComplete,
  PACKET,
  REPORT,
  STATUS,
  u16,
} from './hciPackets.ts';

/**
 * A Bluetooth controller in software: it takes HCI packets from one host and answers as a
 * controller does. It knows no radio but the one it was given, and nothing of services.
 */

/** What a socket is plugged into: one host's way to one controller. */
export interface HciPort {
  /** A packet from the host; throws what a socket would report as its error. */
  write(packet: Buffer): void;
  /** Where packets to the host go; null unplugs. Never called back from inside `write`. */
  attach(receive: ((packet: Buffer) => void) | null): void;
  up(): boolean;
}

export interface LinkParametersAsked {
  readonly interval: number;
  readonly latency: number;
  readonly timeout: number;
}

/** One side of a link. */
export interface LinkEnd {
  readonly controller: VirtualController;
  readonly handle: number;
  readonly link: VirtualLink;
}

/** A link as its two controllers see it. */
export interface VirtualLink {
  other(end: LinkEnd): LinkEnd;
  /** Runs now, or when the pad is heard again; not at all when the link breaks before. */
  carry(deliver: () => void): void;
  isQuiet(): boolean;
  /** Ends it on both sides, each with its reason. */
  end(by: LinkEnd, reason: number, othersReason: number): void;
}

export interface ControllerOptions {
  /** Six bytes, least significant first, as HCI sends them. */
  readonly address: readonly number[];
  readonly isAudible: () => boolean;
  /** dBm at the computer. */
  readonly signal: () => number;
  /** First connection handle; never zero, and different on the two sides. */
  readonly firstHandle: number;
  /** Refuses to connect while it scans, as some controllers do. */
  readonly scansOrConnects: boolean;
  /** Whether a packet of its host is lost before it is sent, as in a pad whose queue is full. */
  readonly isDropped: (packet: Buffer) => boolean;
}

/** The smallest buffer of Core specification 4.0, so that longer values come in fragments. */
const BUFFER_BYTES = 27;
const BUFFERS = 8;
/** Version 5.0, so that both libraries take it for low energy; maker "internal use". */
const VERSION = [0x09, 0, 0, 0x09, ...u16(0xffff), 0, 0] as const;

export interface VirtualController extends HciPort {
  readonly options: ControllerOptions;
  readonly links: Map<number, LinkEnd>;
  /** Hex address of the device it is trying to reach; null where none. */
  initiating(): { readonly peer: string; readonly asked: LinkParametersAsked } | null;
  isAdvertising(): boolean;
  /** Advertising interval, ms. */
  advertisingInterval(): number;
  /** Another controller's advertisement, as report and scan response. */
  hear(from: VirtualController): void;
  advertisement(): { readonly data: Buffer; readonly scanResponse: Buffer };
  /** A link opened to this controller; advertising and initiating end with it. */
  open(end: LinkEnd, role: 'central' | 'peripheral', asked: LinkParametersAsked): void;
  closed(end: LinkEnd, reason: number): void;
  nextHandle(): number;
  /** A packet that came over the air, to the host. */
  deliver(packet: Buffer): void;
  /** Off: it forgets everything and answers nothing. */
  power(on: boolean): void;
}

export const hexOf = (address: readonly number[]): string => Buffer.from(address).toString('hex');

export const createController = (options: ControllerOptions): VirtualController => {
  let receive: ((packet: Buffer) => void) | null = null;
  let powered = true;
  let scanning = false;
  let advertising = false;
  let interval = 100;
  let data: Buffer = Buffer.alloc(0);
  let scanResponse: Buffer = Buffer.alloc(0);
  let initiating: { peer: string; asked: LinkParametersAsked } | null = null;
  let handle = options.firstHandle;
  const links = new Map<number, LinkEnd>();

  /** In a turn of its own for each packet: a host is never called back from inside its own write. */
  const send = (packet: Buffer): void => {
    setImmediate(() => {
      if (powered) receive?.(packet);
    });
  };

  const nobody = { handle: 0, role: 'central', peer: [0, 0, 0, 0, 0, 0], interval: 0 } as const;

  const complete = (command: number, values: readonly number[] = []): void =>
    send(commandComplete(command, STATUS.success, values));

  const createConnection = (p: Buffer): void => {
    const refused = initiating !== null || (options.scansOrConnects && scanning);
    send(commandStatus(COMMAND.leCreateConnection, refused ? STATUS.disallowed : STATUS.success));
    if (refused) return;
    const asked = {
      interval: p.readUInt16LE(15),
      latency: p.readUInt16LE(17),
      timeout: p.readUInt16LE(19),
    };
    initiating = { peer: p.subarray(6, 12).toString('hex'), asked };
  };

  const cancelConnection = (): void => {
    const command = COMMAND.leCreateConnectionCancel;
    if (!initiating) {
      send(commandComplete(command, STATUS.disallowed));
      return;
    }
    initiating = null;
    complete(command);
    send(connectionComplete(STATUS.unknownConnection, { ...nobody, latency: 0, timeout: 0 }));
  };

  const disconnect = (p: Buffer): void => {
    const end = links.get(p.readUInt16LE(0));
    const status = end ? STATUS.success : STATUS.unknownConnection;
    send(commandStatus(COMMAND.disconnect, status));
    // A pad that cannot be heard cannot agree: that link ends by its supervision timeout.
    if (end && !end.link.isQuiet()) end.link.end(end, STATUS.endedByUs, STATUS.endedByRemote);
  };

  const readRssi = (p: Buffer): void => {
    const end = links.get(p.readUInt16LE(0));
    const signal = end ? end.link.other(end).controller.options.signal() : 0;
    const status = end ? STATUS.success : STATUS.unknownConnection;
    const values = [...u16(p.readUInt16LE(0)), Math.round(signal) & 0xff];
    send(commandComplete(COMMAND.readRssi, status, values));
  };

  const commands: Readonly<Record<number, (parameters: Buffer) => void>> = {
    [COMMAND.setEventMask]: () => complete(COMMAND.setEventMask),
    [COMMAND.leSetEventMask]: () => complete(COMMAND.leSetEventMask),
    [COMMAND.reset]: () => complete(COMMAND.reset),
    [COMMAND.writeLeHostSupport]: () => complete(COMMAND.writeLeHostSupport),
    [COMMAND.readLeHostSupport]: () => complete(COMMAND.readLeHostSupport, [1, 0]),
    [COMMAND.readLocalVersion]: () => complete(COMMAND.readLocalVersion, VERSION),
    [COMMAND.readAddress]: () => complete(COMMAND.readAddress, options.address),
    [COMMAND.leReadBufferSize]: () =>
      complete(COMMAND.leReadBufferSize, [...u16(BUFFER_BYTES), BUFFERS]),
    [COMMAND.leSetAdvertisingParameters]: (p) => {
      interval = p.readUInt16LE(0) * 0.625;
      complete(COMMAND.leSetAdvertisingParameters);
    },
    [COMMAND.leSetAdvertisingData]: (p) => {
      data = Buffer.from(p.subarray(1, 1 + p.readUInt8(0)));
      complete(COMMAND.leSetAdvertisingData);
    },
    [COMMAND.leSetScanResponseData]: (p) => {
      scanResponse = Buffer.from(p.subarray(1, 1 + p.readUInt8(0)));
      complete(COMMAND.leSetScanResponseData);
    },
    [COMMAND.leSetAdvertiseEnable]: (p) => {
      advertising = p.readUInt8(0) === 1;
      complete(COMMAND.leSetAdvertiseEnable);
    },
    [COMMAND.leSetScanParameters]: () => complete(COMMAND.leSetScanParameters),
    [COMMAND.leSetScanEnable]: (p) => {
      scanning = p.readUInt8(0) === 1;
      complete(COMMAND.leSetScanEnable);
    },
    [COMMAND.leCreateConnection]: createConnection,
    [COMMAND.leCreateConnectionCancel]: cancelConnection,
    [COMMAND.disconnect]: disconnect,
    [COMMAND.readRssi]: readRssi,
  };

  const carryAcl = (packet: Buffer): void => {
    const word = packet.readUInt16LE(1);
    const end = links.get(word & 0x0fff);
    if (!end) return;
    const flags = (word >> 12) & 3;
    end.link.carry(() => {
      send(completedPackets(end.handle, 1));
      if (options.isDropped(packet)) return;
      const to = end.link.other(end);
      const copy = Buffer.from(packet);
      // Hosts begin a packet with 00; controllers hand the beginning on as 10 (Vol 4 Part E 5.4.2).
      copy.writeUInt16LE(to.handle | ((flags === 0 ? 2 : flags) << 12), 1);
      to.controller.deliver(copy);
    });
  };

  return {
    options,
    links,
    deliver: send,
    write: (packet) => {
      if (!powered) return;
      if (packet[0] === PACKET.acl) carryAcl(packet);
      else if (packet[0] === PACKET.command) {
        const command = packet.readUInt16LE(1);
        const run = commands[command];
        if (run) run(packet.subarray(4));
        else send(commandComplete(command, STATUS.unknownCommand));
      }
    },
    attach: (to) => {
      receive = to;
    },
    up: () => powered,
    initiating: () => initiating,
    isAdvertising: () => advertising && powered && options.isAudible(),
    advertisingInterval: () => interval,
    advertisement: () => ({ data, scanResponse }),
    hear: (from) => {
      if (!scanning) return;
      const { address, signal } = from.options;
      const said = from.advertisement();
      send(advertisingReport(REPORT.connectable, address, said.data, signal()));
      send(advertisingReport(REPORT.scanResponse, address, said.scanResponse, signal()));
    },
    open: (end, role, asked) => {
      if (role === 'central') initiating = null;
      else advertising = false;
      links.set(end.handle, end);
      const peer = end.link.other(end).controller.options.address;
      send(connectionComplete(STATUS.success, { handle: end.handle, role, peer, ...asked }));
    },
    closed: (end, reason) => {
      if (links.delete(end.handle)) send(disconnectionComplete(end.handle, reason));
    },
    nextHandle: () => handle++,
    power: (on) => {
      powered = on;
      if (on) return;
      scanning = false;
      advertising = false;
      initiating = null;
      links.clear();
    },
  };
};
