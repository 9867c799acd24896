package cutting

import (
	"errors"
	"math"
)

// GrooveWidth is the width that was measured of a groove, and the depth that its program
// asked for, mm.
type GrooveWidth struct{ Depth, Width float64 }

// BallFit is what the widths of grooves say of the ball that cut them, mm, each with the
// standard error that a caliper of the given error makes of it.
type BallFit struct {
	Radius, RadiusError float64
	Sunk, SunkError     float64   // deeper than the program asked for
	ZeroTaken           bool      // as true: grooves of one depth do not tell how deep they went
	Rest                []float64 // each width less the one that the fit says
}

// errFewWidths and the others say why widths say nothing.
var (
	errNoWidths   = errors.New("the width of a groove is needed")
	errFlatWidths = errors.New("the widths belong to no ball: the deeper groove must be the wider one")
)

// FitBall returns the true radius of a ball and how much deeper it went than its program
// asked for, from the widths of two grooves or more. With the radius R and the ball's
// centre K over a zero depth, a groove programmed to the depth D is w wide where
//
//	R² = (K - D)² + w²/4, that is w²/4 + D² = (R² - K²) + 2·K·D,
//
// which is a straight line over D: its slope gives K, its height R, and the ball went
// R - K deeper. Widths count by their errors. Derived. For grooves of one depth it is
// GrooveRadius with their mean width, whose error counts w/(4·D) times.
func FitBall(widths []GrooveWidth, caliper float64) (BallFit, error) {
	var n, x, y, xx, xy float64
	deepest, least := math.Inf(-1), math.Inf(1)
	for _, g := range widths {
		weight := 1 / square(g.Width/2*caliper)
		value := g.Width*g.Width/4 + g.Depth*g.Depth
		n, x, y, xx, xy = n+weight, x+weight*g.Depth, y+weight*value, xx+weight*g.Depth*g.Depth, xy+weight*g.Depth*value
		deepest, least = math.Max(deepest, g.Depth), math.Min(least, g.Depth)
	}
	if len(widths) == 0 {
		return BallFit{}, errNoWidths
	}
	if !(deepest-least > 1e-6) {
		return fitOfOneDepth(widths, caliper), nil
	}
	scale := n*xx - x*x
	slope := (n*xy - x*y) / scale
	level := (y - slope*x) / n
	centre := slope / 2
	inside := level + centre*centre
	if centre <= 0 || inside <= 0 {
		return BallFit{}, errFlatWidths
	}
	radius := math.Sqrt(inside)
	// The covariance of level and slope, and what they do to radius and depth.
	ofLevel, ofSlope, both := xx/scale, n/scale, -x/scale
	spread := func(byLevel, bySlope float64) float64 {
		return math.Sqrt(math.Max(0, byLevel*byLevel*ofLevel+bySlope*bySlope*ofSlope+2*byLevel*bySlope*both))
	}
	fit := BallFit{Radius: radius, Sunk: radius - centre,
		RadiusError: spread(1/(2*radius), centre/(2*radius)), SunkError: spread(1/(2*radius), centre/(2*radius)-0.5)}
	for _, g := range widths {
		fit.Rest = append(fit.Rest, g.Width-EffectiveDiameter(2*radius, g.Depth+fit.Sunk))
	}
	return fit, nil
}

// fitOfOneDepth is FitBall for grooves of one depth, the zero taken as true.
func fitOfOneDepth(widths []GrooveWidth, caliper float64) BallFit {
	mean, n := 0.0, float64(len(widths))
	for _, g := range widths {
		mean += g.Width / n
	}
	depth := widths[0].Depth
	fit := BallFit{Radius: GrooveRadius(mean, depth), RadiusError: caliper / math.Sqrt(n) * mean / (4 * depth), ZeroTaken: true}
	for _, g := range widths {
		fit.Rest = append(fit.Rest, g.Width-mean)
	}
	return fit
}

func square(v float64) float64 { return v * v }
