// Package gcode writes and reads programs in the open standard RS274/NGC, as the
// report NISTIR 6556 (The NIST RS274/NGC Interpreter, Version 3, August 2000) defines
// it.
//
// The writer spells a checked job in a portable subset, by a dialect; the reader takes
// any legal program, ours or not, and returns what it makes a machine do. The two share
// no code: the reader is there to judge the writer.
package gcode
