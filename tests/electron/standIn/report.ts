/**
 * What the program did with the system around it, kept for the test that started it: the test asks
 * over the process's own channel and is answered with the whole of it.
 */

/** What a test is told. */
export interface Report {
  /** The options of each window that was opened, in order. */
  readonly windows: readonly unknown[];
  readonly schemes: readonly unknown[];
  /** Addresses and files handed to the system. */
  readonly openedOutside: string[];
  readonly menus: readonly unknown[];
  readonly dialogs: readonly unknown[];
  readonly crashReporter: readonly unknown[];
  readonly relaunches: readonly unknown[];
  /** Each answer that the session's deciders give for this permission. */
  readonly permissions: Readonly<Record<string, readonly unknown[]>>;
  /** Events that pages never cause here, fired by hand: whether they were stopped. */
  readonly stopped: Readonly<Record<string, boolean>>;
}

/** A question of the test. */
export interface Question {
  readonly ask: number;
  /** Permissions to put to the session's deciders. */
  readonly permissions?: readonly string[];
  /** The path of a menu item to press, by its labels. */
  readonly press?: readonly string[];
  /** Events to fire at the window's contents. */
  readonly fire?: readonly string[];
}

export const kept = {
  windows: [] as unknown[],
  schemes: [] as unknown[],
  openedOutside: [] as string[],
  menus: [] as unknown[],
  dialogs: [] as unknown[],
  crashReporter: [] as unknown[],
  relaunches: [] as unknown[],
};

type Answer = (question: Question) => Partial<Report>;
const answers: Answer[] = [];

/** Adds what a part of the stand-in has to say to a question. */
export const answerWith = (answer: Answer): void => void answers.push(answer);

process.on('message', (question: Question) => {
  const report = Object.assign({}, kept, ...answers.map((answer) => answer(question))) as object;
  // What cannot be cloned (functions of a menu) is left out by JSON.
  process.send?.({ answer: question.ask, report: JSON.parse(JSON.stringify(report)) as unknown });
});
// Asking must not keep a program alive that has ended its own work.
process.channel?.unref();
