// Reads lines of programs and writes, for each, its words as [letter, value] in JSON: a
// second opinion on how words are told apart.
const { parseLine } = require('gcode-parser');
const lines = require('fs').readFileSync(0, 'latin1').split('\n');
for (const line of lines.slice(0, -1)) {
  const { words, ln } = parseLine(line);
  console.log(JSON.stringify(ln === undefined ? words : [['N', ln], ...words]));
}
