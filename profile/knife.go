package profile

import (
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Knife holds the parameters of one knife as its file gives them, in millimetres
// and radians. The zero value is invalid; Parse makes one. The meaning, unit,
// limits and default of every field stand in the parameter table (Table).
type Knife struct {
	Units document.Unit // in which the file gives lengths
	Name  string
	Maker string // who makes it; empty where the file does not say

	Blade      BladeSize
	Taper      []TaperStation
	Spine      Spine
	Clip       Clip
	FalseEdge  FalseEdge
	SecondEdge SecondEdge
	Edge       Edge
	Ricasso    Ricasso
	Plunge     Plunge
	Bevel      Bevel
	Tang       Tang
	Shoulder   Shoulder
	Fullers    []FullerSize
	Holes      []Hole
	Guard      Guard
	Spacers    Spacers
	Handle     Handle
	Pommel     Pommel
	Mark       Mark
	Outline    OutlineSize
	Bar        BarSize
	Allowance  Allowance

	source document.Document
}

// BladeSize is the size of the blade from the guard plane to the point.
type BladeSize struct {
	Length, Width, Thickness float64
	Steel                    string
}

// TaperStation gives the finished thickness at a distance from the guard plane.
type TaperStation struct{ At, Thickness float64 }

// Spine is the back of the blade up to the clip.
type Spine struct{ Rise float64 }

// Clip is the part of the back that runs down to the point.
type Clip struct{ Length, Drop, Sag float64 }

// FalseEdge is the bevel ground along the clip.
type FalseEdge struct {
	Length        float64
	Height, Angle Optional // Angle in radians
	Thickness     float64
}

// SecondEdge is the bevel along the back of a two-edged blade.
type SecondEdge struct {
	Length        float64
	Height, Angle Optional // Angle in radians
	EdgeThickness float64
}

// Edge is the cutting side of the blade.
type Edge struct {
	BellyLength, Fullness, Recurve float64
	PointAngle                     geom.Angle
}

// Ricasso is the unbevelled part in front of the guard plane.
type Ricasso struct {
	Length float64
	Width  Optional
	Choil  float64
}

// Plunge is where the bevel ends against the ricasso.
type Plunge struct{ Radius float64 }

// BevelKind says what the surface of the bevel is.
type BevelKind string

// The kinds of bevel.
const (
	FlatBevel   BevelKind = "flat"
	HollowBevel BevelKind = "hollow"
	ConvexBevel BevelKind = "convex"
)

// BevelLaw says what stays the same along a bevel where the blade tapers.
type BevelLaw string

// What can stay the same along a bevel.
const (
	ConstantHeight BevelLaw = "height"
	ConstantAngle  BevelLaw = "angle"
)

// Bevel is the primary bevel.
type Bevel struct {
	Height        Optional
	Angle         Optional // radians
	Constant      BevelLaw
	Kind          BevelKind
	WheelRadius   Optional
	EdgeThickness float64
	EdgeAngle     geom.Angle
}

// Tang is the part of the blade inside the handle.
type Tang struct {
	Width, EndWidth, Length, CornerRadius float64
	EndThickness                          Optional
	EdgeBreak                             float64 // taken off its long edges at 45 degrees
	Thread                                string
	ThreadLength                          float64
}

// Shoulder is where the blade steps down to the tang.
type Shoulder struct {
	Top, Bottom         Optional
	FaceStep, FileStock float64
	MilledLength        Optional // how far back the tang's sides are milled
}

// Ends says which end of a fuller its dimensions name.
type Ends string

// The ways of dimensioning a fuller's ends.
const (
	VisibleEnds   Ends = "visible"
	FullDepthEnds Ends = "full depth"
)

// RunOutKind says how a fuller ends.
type RunOutKind string

// The kinds of end: fading to the face along an arc, fading as the cutter leaves it, or
// running out through the end of the steel without fading.
const (
	SweptRunOut RunOutKind = "swept"
	BallRunOut  RunOutKind = "ball"
	OpenRunOut  RunOutKind = "open"
)

// Follows says what the centreline of a fuller follows.
type Follows string

// What a centreline can follow.
const (
	FollowsStraight Follows = "straight"
	FollowsSpine    Follows = "spine"
)

// Ground says into which surface a fuller is cut.
type Ground string

// What a fuller can lie on.
const (
	OnFlat  Ground = "flat"
	OnBevel Ground = "bevel"
)

// FullerSize gives one fuller, alike in the faces it is cut in.
type FullerSize struct {
	Radius            float64
	Depth, Web, Ratio Optional // one of them: the law of its depth
	Width             Optional // checked against radius and depth
	FromSpine         float64
	FromSpineEnd      Optional
	Start             Optional // left out where that end is open
	End, Length       Optional // one of them, neither where the far end is open
	Ends              Ends
	StartRunOut       RunOutKind
	EndRunOut         RunOutKind
	RunOutRadius      Optional
	Follows           Follows
	On                Ground
	Faces             string // "both", "right" or "left"
}

// OpenStart reports whether the fuller runs out through the shoulder and the tang.
func (s FullerSize) OpenStart() bool { return s.StartRunOut == OpenRunOut }

// OpenEnd reports whether the fuller runs out of the blade toward the point.
func (s FullerSize) OpenEnd() bool { return s.EndRunOut == OpenRunOut }

// Cut reports whether the fuller is cut in the face f.
func (s FullerSize) Cut(f Face) bool { return s.Faces == "both" || s.Faces == f.String() }

// Shape is the cross-section of a part of the hilt.
type Shape string

// The cross-sections of fittings.
const (
	Oval  Shape = "oval"
	Block Shape = "block"
)

// Guard is the cross-piece in front of the handle: Length along the blade's width,
// Width across its faces, Thickness along the knife. A thickness of 0 is no guard.
type Guard struct {
	Length, Width, Thickness float64
	Shape                    Shape
	Material                 string
	Density                  Optional // g/cm³
	Clearance                float64  // of the slot on each side of the tang
	Chamfer                  float64  // of the slot's front rim
}

// Spacers are the thin plates between guard and handle, of the handle's size.
type Spacers struct {
	Thickness float64 // all together
	Material  string
	Density   Optional // g/cm³
}

// Handle is the grip over the tang. A length of 0 is no handle.
type Handle struct {
	Length, Width, Thickness float64
	Shape                    Shape
	Material                 string
	Density                  Optional // g/cm³
}

// Pommel closes the handle. A length of 0 is no pommel.
type Pommel struct {
	Length, Width, Thickness float64
	Shape                    Shape
	Material                 string
	Density                  Optional // g/cm³
	HoleDepth                float64  // of its threaded hole
}

// BarSize is the bar as ordered, before anyone measured it.
type BarSize struct {
	Length, Width, Thickness      Optional
	SpineAllowance, EdgeAllowance float64
	TangAllowance, PointAllowance float64
	Condition                     string   // "annealed", "normalised" or "hardened"
	Hardness                      Optional // HRC
	Tapered                       TaperOrder
	XZero                         XZeroKind
	XZeroFromButt                 Optional // where it is not the butt
}

// Allowance holds what the work takes off between the bar and the finished knife.
type Allowance struct {
	Sanding  float64 // inside a fuller
	Finish   float64 // off each face after hardening
	Scale    float64 // off each face: scale and decarburised skin
	CleanUp  float64 // off each face of the bar after milling
	Grinding float64 // left outside the finished outline
	Growth   float64 // of lengths in hardening, mm per mm
}

// BothFaces returns what comes off both faces together after milling, mm.
func (a Allowance) BothFaces() float64 { return 2 * (a.Finish + a.Scale + a.CleanUp) }
