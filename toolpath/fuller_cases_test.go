package toolpath

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
	"fullerwright/toolpath/motion"
)

func builtInShop(t testing.TB) Shop {
	t.Helper()
	shop, err := ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	return shop
}

// testKnife is a level blade with one fuller of radius 8 and depth 1, to be changed.
func testKnife() profile.Knife {
	return profile.Knife{
		Name:    "Test",
		Blade:   profile.BladeSize{Length: 160, Width: 34, Thickness: 6, Steel: "1084"},
		Clip:    profile.Clip{Length: 50, Drop: 10, Sag: 2},
		Edge:    profile.Edge{BellyLength: 45, PointAngle: 40 * geom.Degree, Fullness: 0.55},
		Ricasso: profile.Ricasso{Length: 10},
		Bevel:   profile.Bevel{Height: profile.Some(14), Kind: profile.FlatBevel, EdgeThickness: 0.5, EdgeAngle: 20 * geom.Degree},
		Tang:    profile.Tang{Width: 16, EndWidth: 10, Length: 90, CornerRadius: 1},
		Fullers: []profile.FullerSize{{
			Radius: 8, Depth: profile.Some(1), FromSpine: 9, Start: profile.Some(25), End: profile.Some(75),
			Ends: profile.FullDepthEnds, StartRunOut: profile.SweptRunOut, EndRunOut: profile.SweptRunOut, RunOutRadius: profile.Some(40),
			Follows: profile.FollowsStraight, Faces: "both",
		}},
		Bar: profile.BarSize{SpineAllowance: 2, EdgeAllowance: 2, TangAllowance: 5, PointAllowance: 5},
	}
}

// fullerCases are knives that use every kind of fuller.
func fullerCases() map[string]profile.Knife {
	change := func(f func(k *profile.Knife)) profile.Knife {
		k := testKnife()
		f(&k)
		return k
	}
	return map[string]profile.Knife{
		"level":  testKnife(),
		"sloped": change(func(k *profile.Knife) { k.Taper = []profile.TaperStation{{At: 150, Thickness: 3.6}} }),
		"kinked inward": change(func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 50, Thickness: 5.6}, {At: 150, Thickness: 2.6}}
		}),
		"kinked upward": change(func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 50, Thickness: 4.8}, {At: 150, Thickness: 4.4}}
		}),
		"ground first": change(func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 50, Thickness: 5.6}, {At: 150, Thickness: 2.6}}
			k.Bar.Tapered = profile.TaperedBefore
		}),
		"ball ends": change(func(k *profile.Knife) {
			k.Fullers[0].StartRunOut, k.Fullers[0].EndRunOut = profile.BallRunOut, profile.BallRunOut
		}),
		"constant web": change(func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 150, Thickness: 3.6}}
			k.Fullers[0].Depth, k.Fullers[0].Web = profile.Optional{}, profile.Some(4.2)
		}),
		"ratio": change(func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 150, Thickness: 3.6}}
			k.Fullers[0].Depth, k.Fullers[0].Ratio = profile.Optional{}, profile.Some(0.17)
		}),
		"oblique":     change(func(k *profile.Knife) { k.Fullers[0].FromSpineEnd = profile.Some(11) }),
		"along spine": change(func(k *profile.Knife) { k.Spine.Rise, k.Fullers[0].Follows = 4, profile.FollowsSpine }),
		"two": change(func(k *profile.Knife) {
			second := k.Fullers[0]
			second.FromSpine, second.Radius = 19, 7
			k.Fullers = append(k.Fullers, second)
			k.Bevel.Height = profile.Some(8)
		}),
		"sanded": change(func(k *profile.Knife) { k.Allowance.Sanding = 0.05 }),
	}
}

func mustBuild(t testing.TB, k profile.Knife) profile.Blade {
	t.Helper()
	require.NoError(t, k.Validate())
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	return b
}

// asMotions takes planned moves for motions, without the rounding of a text.
func asMotions(job *Job) []motion.Motion {
	out := make([]motion.Motion, len(job.Moves))
	at := motion.Vec{Z: 50}
	for i, m := range job.Moves {
		out[i] = motion.Motion{TextLine: i + 1, Kind: m.Kind, From: at, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep,
			Feed: m.Feed, Spindle: motion.SpindleClockwise, Speed: job.Spindle}
		at = m.To
	}
	return out
}

// prove cuts a new bar with a planned job.
func prove(b profile.Blade, shop Shop, job *Job) FaceProof {
	return NewBarState(b, shop, job.Cutter.Radius()).Prove(job.Step, job.Setup, job.Cutter, job.Cusp, asMotions(job))
}

func planned(t testing.TB, b profile.Blade, shop Shop, face profile.Face, flip Flip, cutter string) *Job {
	t.Helper()
	job, _, err := PlanFullers(b, shop, SetupFor(b.Bar, face, flip), cutter)
	require.NoError(t, err)
	return job
}
