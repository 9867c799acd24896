package gcode_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// oracleOdd lists short programs at the edges of the rules, with | for a line's end
// and what the oracle must say of them.
var oracleOdd = map[oracleVerdict][]string{
	oracleAccepts: {
		// Files and lines.
		"%|g0x1|%", "%|m2", " |\t%|g0x1| % |junk;", "m2|%", "g0x1m2|junk;", "n5|m2", "/|m2", "%|%", "()|m2",
		strings.Repeat(" ", oracleLineLimit-4) + "g0x1|m2", "n00005g0x1|m2", "g0x1\r|y2\r|m2\r", "(a)(b)g0(c)x1|m2", "G 0 X - 1 . 5|m2", "/n5g0x1|m2",
		// Numbers, expressions and parameters.
		"g0xround[2.5]yround[-2.5]zround[-1.4]|m2", "g0x[0-7 mod 3]y[7 mod[0-3]]|m2", "g0x[-2**2]|m2",
		"g0x[2+3*4**2]y[10-4-3]z[100/10/2]|m2", "g0x[1 or 1 and 0]y[1 xor 1 and 0]z[2 mod 3*2]|m2",
		"g0xatan[1]/[0]yatan[-1]/[-1]zfix[-2.1]|m2", "g0x[1--1]y[2**-1]z[2*+2]|m2", "g[0]x1|m[2]",
		"#1=2#1=3|g0x#1|m2", "#1=2 g0x#1 #1=4|y#1|m2", "#1=2|##1=5|g0x#2|m2", "#5399=4|g0x#5399|m2",
		"g1.00001x1f2|m2", "m3.00005|g0x1|m2", "m3.99995|g0x1|m2", "g[59+0.1]|g0x1|m2", "#1.00005=3|g0x#1|m2",
		// Order within a line.
		"f7g1x1g20|m2", "g0x1g18|g2z4k2f9|m2", "g1f5x1m5s3|x2m3m0|m2", "m6m3t2|g0x1|m2", "m6t4m0g0x1|m2",
		"g0x5|g91g92x1|g90g0x0|m2", "g10l2p2x5g55|g0x1|m2", "g0x7g4p2f3|m2", "g1f5x1|g4p1x4|m2",
		// Origins.
		"g92x9|g1f5x1|g92.1x2|m2", "g10l2p2x5g55|g0x7|g92x1|x0|m2", "g80g92x5|g0x1|m2", "g80g10l2p1x1|g0x1|m2", "g80g28x1|m2",
		"g92x5|g10l2p1x3|g0x1|m2", "g91|g10l2p1x5|g0x1|g90x1|m2", "g92x4|g53g0x1|x2|m2", "g92x4|g28y1|g0x1|m2",
		"g10l2p9z1|g59.3|g0z1|x#5220|m2", "g10l2p2x4|g0x#5241|m2", "g0x3|g92x5|g0x#5211|m2", "g20g53g0x1|m2",
		// Arcs.
		"f5g91g2x10r5.0000000000001|m2", "f5g91g2x10r4.9999999999999|m2", "f5g2x10.0019i5|m2",
		"f5g3x0i5|m2", "f5g18g2x10z0i5k0|m2", "f5g19g3z4y4r-3|m2", "g20f5g2x1.00019i.5|m2", "f5g18g3x0z0y2i5|m2",
		// Cycles.
		"f5g81x1z-1r1|x3z-2|x4r2|z-3|m2", "f5g82x1z-1r1p1|g82x3|x4p2|m2", "f5g91g81x1z-1r1l3|x2|y1l2|m2",
		"f5g0z9|g99g81x1z-1r1|g98x4|m2", "f5g83x1z-1r1q.5|x2|q2x3|m2", "f5g81x1z1r1|m2", "f5g81x1z-1r1|g28|x5|m2",
		"f5g18g81x1y-1z2r1|m2", "f5g19g89x-1z2r1p.5|m2", "f5m3|g86x1z-1r1p2l2|m2", "f5g81x1z-1r1|g4p1x4|m2",
	},
	oracleRefuses: {
		strings.Repeat(" ", oracleLineLimit-3) + "g0x1|m2", "", "|", "%", "%|g0x1", "g0x1|%", "%%|m2", "% (c)|m2", "(c)|%|m2", "g0x1", "//|m2", "n000005g0x1|m2",
		"(c)n5g0x1|m2", "g0x1(c)2|m2", "g0x[1(c)+2]|m2", "g0x[-[1]]|m2", "g0x[-#1]|m2", "g0x[2***2]|m2",
		"g0x[1[2]]|m2", "g0x2**2|m2", "#1==2|m2", "g0xatan[1]/2|m2", "g0x##1|m2", "#1=5|g0x[#1mod0]|m2",
		"\vg0x1|m2", "\ufeffg0x1|m2", "g0x1\x00|m2", "g0x\u0661|m2", "m3.00011|m2", "t1.00011|m2",
		"f5g2x10i5|i-5|m2", "f5g2x10i5|x20|m2", "f5g2x10i5|r5|m2", "f5g2x10i5|g92x5r5|m2", "f5g2x10.0021i5|m2",
		"f5g91g2x10r4.99999999999|m2", "g20f5g2x1.00021i.5|m2", "f5g81x1z-1r1|g82x2p1|m2", "f5g81x1z-1r1|g0x2|g81x3|m2",
		"f5g81x1z-1r1|g80|g81x3|m2", "f5g81x1z-1r1|g93x2f2|m2", "f5g93g1x1f2|x2|m2", "f5g93|g1x1f0|m2",
		"f5g81x1z-1r1|l3|m2", "f5g82x1z-1r1p1|g53x5|m2", "g0x1|g53g80|m2", "f5|g86x1z-1r1p1|m2", "g53x1|m2",
	},
}

// TestOracleAgreesOnOddPrograms compares the evaluators at the edges.
func TestOracleAgreesOnOddPrograms(t *testing.T) {
	for want, programs := range oracleOdd {
		for _, program := range programs {
			oracle, reader, difference := oracleCompare(strings.ReplaceAll(program, "|", "\n"))
			require.NoError(t, difference, program)
			require.Equal(t, want, oracle, "the oracle: %s", program)
			require.Equal(t, want, reader, "the reader: %s", program)
		}
	}
}
