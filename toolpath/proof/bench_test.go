package proof

import (
	"testing"

	"fullerwright/toolpath/motion"
)

// benchmarkCut cuts straight passes over a groove's worth of nodes.
func benchmarkCut(b *testing.B, step float64, passes int) {
	var motions []motion.Motion
	for i := range passes {
		y := float64(i%10)*0.3 - 1.5
		motions = append(motions, fed(vec(0, y, 1), vec(120, y, 1)))
	}
	benchmarkMotions(b, step, motions)
}

func benchmarkMotions(b *testing.B, step float64, motions []motion.Motion) {
	m := NewMap(GridOver(Box{-4, -6, 124, 6}, step), level(2))
	before := append([]float64(nil), m.Height...)
	length := 0.0
	for _, v := range motions {
		length += v.Length()
	}
	for b.Loop() {
		copy(m.Height, before)
		m.cuts = m.cuts[:0]
		m.Cut(here, Cutter{Radius: 3}, motions)
	}
	// By nodes under the cutter, 6 mm wide, along the way.
	nodes := length * 6 / (step * step)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/nodes, "ns/node")
}

func BenchmarkCutCoarse(b *testing.B)   { benchmarkCut(b, 0.1, 20) }
func BenchmarkCutFine(b *testing.B)     { benchmarkCut(b, 0.05, 20) }
func BenchmarkCutLongPath(b *testing.B) { benchmarkCut(b, 0.1, 80) }

// BenchmarkCutChords cuts passes that are neither straight nor level, in chords of half
// a millimetre.
func BenchmarkCutChords(b *testing.B) {
	var motions []motion.Motion
	for pass := range 20 {
		y := float64(pass%10)*0.3 - 1.5
		at := vec(0, y, 1)
		for i := range 240 {
			x := float64(i+1) / 2
			to := vec(x, y+x*x/10000, 1+x/1000)
			motions = append(motions, fed(at, to))
			at = to
		}
	}
	benchmarkMotions(b, 0.1, motions)
}

// BenchmarkBothFaces cuts and compares both faces of a job of the usual size: 130 by 9
// mm of groove with swept run-outs, 6 m of path for each face, at a step of 0.06 mm.
func BenchmarkBothFaces(b *testing.B) {
	var motions []motion.Motion
	for pass := range 46 {
		y := float64(pass%23)*0.25 - 2.75
		from, to := vec(0, y, 1.2), vec(110, y, 1.2)
		motions = append(motions,
			motion.Motion{Kind: motion.Arc, Plane: motion.PlaneZX, Feed: 100, Spindle: 1, From: vec(-10, y, 2), To: from, Sweep: -0.16, Centre: vec(0, y, 63.2), TextLine: 1},
			fed(from, to), motion.Motion{Kind: motion.Rapid, From: to, To: vec(110, y, 9)}, motion.Motion{Kind: motion.Rapid, From: vec(110, y, 9), To: vec(-10, y, 9)})
	}
	design := groove{8, 1, 2}
	for b.Loop() {
		for range 2 {
			m := NewMap(GridOver(Box{-14, -5, 118, 5}, 0.06), level(2))
			Judge(m, Exactly(design), m.Cut(here, Cutter{Radius: 3}, motions), Tolerance{Gouge: 0.005, Leftover: 0.01}, limits(), testCutter(), 0)
		}
	}
}

// BenchmarkCopy copies the memory of a map, as a measure of the machine.
func BenchmarkCopy(b *testing.B) {
	m := NewMap(GridOver(Box{-4, -6, 124, 6}, 0.1), level(2))
	to := make([]float64, len(m.Height))
	for b.Loop() {
		copy(to, m.Height)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(to)), "ns/node")
}
