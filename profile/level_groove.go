package profile

import "fullerwright/profile/geom"

// LevelGroove returns the groove of a ball that runs level along X at y, from one x to
// another: its floor at the height given, its ends the ball's own shape.
func LevelGroove(radius, floor, y float64, from, to float64) Groove {
	return Groove{Radius: radius, Plan: []geom.Point{{X: from, Y: y}, {X: to, Y: y}},
		Axis:     []AxisPoint{{0, floor + radius}, {to - from, floor + radius}},
		StartArc: AxisArc{S: 0, H: floor + radius}, EndArc: AxisArc{S: to - from, H: floor + radius}}
}
