/**
 * What a JUnit file may hold, as servers that are strict about it say: the elements and attributes of junit-10.xsd of the
 * Jenkins xUnit plug-in (github.com/jenkinsci/xunit-plugin, src/main/resources/org/jenkinsci/plugins/xunit/types/model/xsd,
 * read at commit 031e285e), without the reruns of flaky tests. Times are decimal numbers there.
 */

/** Attributes by element; those that must be there end in `!`. */
const ATTRIBUTES: { readonly [element: string]: string } = {
  testsuites: "name time tests failures errors",
  testsuite: "name! tests! failures! errors! skipped group time timestamp hostname id package file log url",
  testcase: "name! time classname group",
  property: "name! value!",
  failure: "type message",
  error: "type message",
  skipped: "type message",
};

/** Elements within an element, in any number and order; those that are not named here hold text alone. */
const CONTENT: { readonly [element: string]: string } = {
  testsuites: "testsuite",
  testsuite: "testsuite properties testcase system-out system-err",
  testcase: "skipped error failure system-out system-err",
  properties: "property",
  property: "",
};

function words(text = ""): string[] {
  return text.split(" ").filter((word) => word !== "");
}

const NAMES = new Set([
  ...Object.keys(ATTRIBUTES),
  ...Object.entries(CONTENT).flatMap(([name, text]) => [name, ...words(text)]),
]);

function element(name: string): string {
  const inner = words(CONTENT[name]).map((ref) => `<xs:element ref="${ref}"/>`);
  const choice = inner.length > 0 ? `<xs:choice minOccurs="0" maxOccurs="unbounded">${inner.join("")}</xs:choice>` : "";
  const attributes = words(ATTRIBUTES[name]).map((attribute) => {
    const use = attribute.endsWith("!") ? "required" : "optional";
    const type = attribute === "time" ? "xs:decimal" : "xs:string";
    return `<xs:attribute name="${attribute.replace("!", "")}" type="${type}" use="${use}"/>`;
  });
  const mixed = CONTENT[name] === undefined;
  return `<xs:element name="${name}"><xs:complexType mixed="${mixed}">${choice}${attributes.join("")}</xs:complexType></xs:element>`;
}

/** As an XML Schema. */
export const JUNIT_SCHEMA = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema">
${[...NAMES].map(element).join("\n")}
</xs:schema>`;
