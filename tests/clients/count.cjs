// Prints the operations of a made client with the type of each success answer that has content, as JSON.
const ts = require("typescript");

const program = ts.createProgram([process.argv[2]], { strict: true, skipLibCheck: false });
const faults = ts.getPreEmitDiagnostics(program);
if (faults.length) {
  console.error(ts.formatDiagnostics(faults, { getCanonicalFileName: (x) => x, getCurrentDirectory: () => ".", getNewLine: () => "\n" }));
  process.exit(1);
}
const checker = program.getTypeChecker();
const file = program.getSourceFile(process.argv[2]);
const types = (type, name) => {
  const member = type.getProperty(name);
  return member && checker.getTypeOfSymbolAtLocation(member, file);
};
const operations = checker.getDeclaredTypeOfSymbol(
  checker.getExportsOfModule(checker.getSymbolAtLocation(file)).find((symbol) => symbol.name === "operations"),
);
const found = {};
for (const operation of operations.getProperties()) {
  const answers = types(checker.getTypeOfSymbolAtLocation(operation, file), "responses");
  found[operation.name] = {};
  for (const answer of answers.getProperties()) {
    const content = types(checker.getTypeOfSymbolAtLocation(answer, file), "content");
    const media = content && checker.getNonNullableType(content).getProperties()[0];
    if (+answer.name >= 300 || !media) continue;
    const type = checker.getTypeOfSymbolAtLocation(media, file);
    if (!(type.flags & (ts.TypeFlags.Any | ts.TypeFlags.Unknown | ts.TypeFlags.Never)))
      found[operation.name][answer.name] = checker.typeToString(type).slice(0, 80);
  }
}
console.log(JSON.stringify(found));
