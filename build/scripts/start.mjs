/**
 * `npm start`: reads the flags before anything is installed, installs what is missing, builds what
 * has changed, and opens the app.
 */
import { HELP, readFlags, withoutNpm } from './flags.mjs';
import { prepare } from './prepare.mjs';

/** @param {string} line */
const refuse = (line) => {
  process.stderr.write(`${line}\n`);
  process.exit(2);
};

const given = withoutNpm(process.argv.slice(2), process.env);
// npm runs scripts in the package's folder; a relative path is meant from where the user stands.
const stood = process.env['npm_lifecycle_event'] === 'start' ? process.env['INIT_CWD'] : undefined;
const read = given.ok ? readFlags(given.args, stood ?? process.cwd()) : given;
if (!read.ok) refuse(read.error);
else if (read.flags.help) process.stdout.write(HELP);
else {
  await prepare(import.meta.url);
  const { openApp } = await import('./openApp.ts');
  await openApp(read.flags);
}
