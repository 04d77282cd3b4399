/** The words of the about box. */
export const aboutText = (about: {
  readonly version: string;
  readonly platform: string;
  readonly arch: string;
  readonly versions: Readonly<Record<string, string | undefined>>;
  readonly dataDir: string;
}): { readonly message: string; readonly detail: string } => {
  const { version, platform, arch, versions, dataDir } = about;
  const runtime = ['electron', 'chrome', 'node']
    .flatMap((name) => (versions[name] === undefined ? [] : [`${name} ${versions[name]}`]))
    .join(', ');
  return {
    message: `Millpond ${version}`,
    detail: [
      'The bench beside the set-up pads.',
      `Runs on ${platform} ${arch}: ${runtime}.`,
      `Everything is kept in ${dataDir}. Nothing is sent anywhere.`,
      'MIT licence. The licences of all that comes with it are a list of their own.',
    ].join('\n\n'),
  };
};
