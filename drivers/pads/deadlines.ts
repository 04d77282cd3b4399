/**
 * Every wait of the device layer, in seconds, each with its reason. Nothing here waits without one.
 */
export const WAITS = {
  /**
   * How long one pad may hold the radio's only connect while another waits. Pads advertise every
   * 0.1 to 0.25 s, so a present one answers within a few of these; two absent pads then cost the
   * others 3 s, which with connecting and discovery stays within 5 s.
   */
  connectTurn: 1.5,
  /** How long a connect may be outstanding while nobody waits: slow advertisers get their chance. */
  connectAlone: 4,
  /** How long a connect that was given up may take to settle before the next begins. */
  cancelGrace: 0.25,
  /** One read, write or subscribe: over sixty connection intervals of 30 ms. */
  operation: 2,
  /** Discovery of services: tens of round trips, the longest single step. */
  discovery: 4,
  /** Discovery and all reads before the stream is subscribed to. */
  introduction: 8,
  /** Subscribing to the stream and what else notifies. */
  subscribing: 5,
  /** Closing a link, which a radio library may never confirm. */
  closing: 1,
  /** Life of a link after which its next loss counts as the first: shorter lives go on backing off. */
  provenLife: 10,
  /** First back-off: a pad that only blinked is back at once. */
  backOffFirst: 0.25,
  /** Longest back-off: a pad switched on later is heard anyway, and hearing it ends the back-off. */
  backOffLongest: 30,
  /** A heard pad ends its back-off no sooner than this, so that one that fails cannot hog the radio. */
  backOffLeast: 1,
  /** A refused pad is looked at again: the maker's tool may have set its serial number or firmware. */
  refusedAgain: 30,
  /** Battery and temperature where the pad does not notify them; both change over minutes. */
  poll: 30,
  /** Signal strength: fast enough to carry the computer about and watch it. */
  signalPoll: 5,
  /** The list of pads is sent at most this often (core/bench/ports.ts: four times a second). */
  status: 0.25,
  /** A fault that goes on is told once in this time. */
  faultAgain: 10,
  /** A fault that happened stays on the pad's list this long (core/bench/ports.ts: a minute). */
  faultShown: 60,
  /** Scanning beside live pads: listen this long … */
  scanListen: 2,
  /** … out of every this long, so that a radio's time goes to the pads that are live. */
  scanPeriod: 10,
  /** How long the light blinks for "identify": long enough to walk round a car. */
  identify: 10,
} as const;
