/** The text of a file, which the bundler puts into the page. */
declare module "*?raw" {
  const text: string;
  export default text;
}
