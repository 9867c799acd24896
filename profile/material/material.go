// Package material holds what a knife is made of: blade steels with their densities and
// hardnesses, and the materials of guards, handles and pommels.
//
// Densities are g/cm³. Every figure carries a mark that says how sure we are of it.
package material

import (
	"fmt"
	"strings"
)

// Mark says how sure a figure is.
type Mark string

// The marks.
const (
	Read      Mark = "read"        // in the source named
	Memory    Mark = "from memory" // of the source named; never a check of a published figure
	Judgement Mark = "judgement"
	Given     Mark = "given" // by the shop file
)

// Modulus is Young's modulus of blade steel, N/mm². Handbooks give 200 000 to 212 000
// for carbon, tool and martensitic stainless steels, annealed or hardened (from memory
// of EN 10088 and makers' data sheets); hardening changes it by less than 2 %.
const Modulus = 205_000

// Figure is a number with where it comes from.
type Figure struct {
	Value  float64
	Mark   Mark
	Source string
}

// Range is a range of numbers with where it comes from.
type Range struct {
	Least, Most float64
	Mark        Mark
	Source      string
}

// Steel is a blade steel.
type Steel struct {
	Name     string
	Group    string // of ISO 513 with the numbers of VDI 3323
	Density  Figure // g/cm³
	Annealed Range  // Brinell
	Hardened Range  // Rockwell C, as knives are tempered
}

// Part is a material of fittings.
type Part struct {
	Name     string
	Density  Figure // g/cm³
	Hardness Range  // Brinell, of metals as they are bought; zero for what is no metal
}

const (
	carbonSteel = "density of carbon steel in handbooks"
	asm         = "ASM Metals Handbook"
	practice    = "common practice for knives, no source"
)

// Steels returns the steels with known figures, carbon steels first.
func Steels() []Steel {
	carbon := Figure{7.85, Memory, carbonSteel}
	tempered := func(least, most float64) Range { return Range{least, most, Judgement, practice} }
	return []Steel{
		{"1075", "P 4", carbon, Range{150, 200, Memory, asm}, tempered(57, 62)},
		{"1080", "P 4", carbon, Range{150, 200, Memory, asm}, tempered(58, 63)},
		{"1084", "P 4", carbon, Range{150, 200, Memory, asm}, tempered(58, 63)},
		{"1095", "P 4", carbon, Range{170, 207, Memory, asm}, tempered(58, 64)},
		{"W2", "P 4", Figure{7.83, Memory, "data sheets"}, Range{163, 202, Memory, "ASTM A686"}, tempered(60, 65)},
		{"5160", "P 6", carbon, Range{179, 207, Memory, asm}, tempered(56, 60)},
		{"80CrV2", "P 6", carbon, Range{180, 230, Memory, "EN ISO 4957"}, tempered(57, 62)},
		{"15N20", "P 6", carbon, Range{190, 230, Memory, "data sheets; uncertain"}, tempered(57, 62)},
		{"52100", "P 6", Figure{7.81, Memory, "data sheets"}, Range{183, 207, Memory, "ISO 683-17"}, tempered(59, 64)},
		{"O1", "P 6", Figure{7.81, Read, "a supplier's table, at 62 HRC"}, Range{180, 212, Read, "about 190 in Uddeholm's brochure on Arne; 212 at most from memory of ASTM A681"}, tempered(58, 63)},
		{"A2", "P 10", Figure{7.86, Memory, "data sheets"}, Range{201, 248, Memory, "ASTM A681"}, tempered(58, 62)},
		{"D2", "P 10", Figure{7.70, Memory, "data sheets"}, Range{210, 255, Memory, "ASTM A681"}, tempered(58, 62)},
		{"AEB-L", "P 12", Figure{7.70, Memory, "data sheets"}, Range{200, 240, Judgement, "by analogy with 13C26"}, tempered(58, 63)},
		{"14C28N", "P 12", Figure{7.70, Memory, "data sheets"}, Range{200, 240, Judgement, "by analogy with 13C26"}, tempered(58, 62)},
		{"13C26", "P 12", Figure{7.70, Memory, "data sheets"}, Range{200, 240, Read, "Alleima's data sheet, at most 240 HV"}, tempered(58, 62)},
		{"440C", "P 13", Figure{7.65, Memory, "data sheets"}, Range{230, 269, Memory, "data sheets"}, tempered(57, 60)},
		{"154CM", "P 13", Figure{7.79, Memory, "data sheets"}, Range{220, 250, Memory, "data sheets"}, tempered(58, 62)},
		{"ATS-34", "P 13", Figure{7.79, Memory, "data sheets"}, Range{220, 250, Memory, "data sheets"}, tempered(58, 62)},
		{"CPM 154", "P 13", Figure{7.79, Memory, "data sheets"}, Range{220, 250, Memory, "data sheets"}, tempered(58, 62)},
		{"S30V", "P 13", Figure{7.47, Memory, "data sheets"}, Range{240, 260, Memory, "data sheets"}, tempered(58, 62)},
		{"S35VN", "P 13", Figure{7.47, Memory, "data sheets"}, Range{240, 260, Memory, "data sheets"}, tempered(58, 62)},
		{"MagnaCut", "P 13", Figure{7.65, Memory, "data sheets; uncertain"}, Range{240, 260, Memory, "data sheets; uncertain"}, tempered(60, 64)},
	}
}

// SteelNamed returns a steel by its name, in any case.
func SteelNamed(name string) (Steel, bool) {
	for _, s := range Steels() {
		if strings.EqualFold(s.Name, name) {
			return s, true
		}
	}
	return Steel{}, false
}

// DefaultDensity is the density taken for a steel that is not in the table.
func DefaultDensity() Figure { return Figure{7.85, Memory, carbonSteel} }

// Parts returns the materials of fittings: metals first, then handles.
func Parts() []Part {
	all := parts()
	return all[:]
}

// parts returns the same as an array, which needs no room on the heap.
func parts() [19]Part {
	alloy := func(name string, density, least, most float64) Part {
		return Part{name, Figure{density, Memory, "density in engineering handbooks"}, Range{least, most, Memory, "handbooks, annealed to half hard"}}
	}
	grip := func(name string, density float64) Part {
		return Part{Name: name, Density: Figure{density, Memory, "middle of the range in handbooks; pieces differ by a fifth"}}
	}
	return [19]Part{
		alloy("brass", 8.5, 75, 150), alloy("nickel silver", 8.7, 85, 170), alloy("bronze", 8.8, 80, 180), alloy("copper", 8.96, 45, 100),
		alloy("steel", 7.85, 110, 170), alloy("stainless steel", 7.9, 150, 215),
		alloy("303 stainless steel", 7.9, 150, 215), alloy("416 stainless steel", 7.75, 155, 262),
		alloy("titanium", 4.5, 120, 350), alloy("aluminium", 2.7, 60, 100),
		grip("hardwood", 0.75), grip("stabilised wood", 1.1), grip("horn", 1.3), grip("antler", 1.7), grip("bone", 1.9),
		grip("leather", 0.95), grip("canvas laminate", 1.35), grip("glass laminate", 1.85), grip("rubber", 1.2),
	}
}

// PartNames returns the names of the materials of fittings.
func PartNames() []string {
	var names []string
	for _, p := range Parts() {
		names = append(names, p.Name)
	}
	return names
}

// PartNamed returns a material of fittings; the name must be one of PartNames.
func PartNamed(name string) Part {
	for _, p := range parts() {
		if p.Name == name {
			return p
		}
	}
	panic(fmt.Sprintf("impossible: no material %q", name))
}
