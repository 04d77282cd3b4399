/** CSS modules and fonts, as the bundler resolves them. */
declare module '*.module.css' {
  const classes: Readonly<Record<string, string>>;
  export default classes;
}
declare module '*.css';
