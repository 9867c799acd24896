package document

import (
	"fmt"
	"strings"
)

// nearestGroup returns a hint that names the known group nearest to a name.
func (r *reader) nearestGroup(name string) string {
	best, distance := "", 4
	for _, g := range r.doc.schema.Groups {
		if d := editDistance(name, g.Name); g.Name != "" && d < distance {
			best, distance = g.Name, d
		}
	}
	if best == "" {
		return "the groups are " + strings.Join(r.groupNames(), ", ")
	}
	return fmt.Sprintf("did you mean %s?", best)
}

func (r *reader) groupNames() []string {
	var names []string
	for _, g := range r.doc.schema.Groups {
		if g.Name != "" {
			names = append(names, g.Name)
		}
	}
	return names
}

// nearestKey returns a hint for a key that the current group does not have: the group
// it belongs to, or the key that it may be a slip of.
func (r *reader) nearestKey(name string) string {
	for _, g := range r.doc.schema.Groups {
		if _, here := g.key(name); here {
			if g.Name == "" {
				return "it belongs before the first group"
			}
			return fmt.Sprintf("it belongs under [%s]; a key belongs to the group typed last before it", g.Name)
		}
	}
	var here, elsewhere []string
	for _, g := range r.doc.schema.Groups {
		for _, k := range g.Keys {
			full := strings.TrimPrefix(g.Name+"."+k.Name, ".")
			if g.Name == r.group.Name {
				here = append(here, full)
			} else {
				elsewhere = append(elsewhere, full)
			}
		}
	}
	full := strings.TrimPrefix(r.group.Name+"."+name, ".")
	for _, names := range [][]string{here, elsewhere} {
		if best, ok := Nearest(full, names); ok {
			return fmt.Sprintf("did you mean %s?", best)
		}
	}
	var keys []string
	for _, k := range r.group.Keys {
		keys = append(keys, k.Name)
	}
	return "the keys here are " + strings.Join(keys, ", ")
}

// Nearest returns the name that another may be a slip of: with at most three letters and
// no more than half of them wrong in its last part, or with that part in it, or in that
// part, as a whole.
func Nearest(name string, among []string) (best string, ok bool) {
	const most = 3
	distance := most + 1
	for _, candidate := range among {
		d := slipDistance(strings.ToLower(name), candidate)
		if d < distance {
			best, distance = candidate, d
		}
	}
	return best, best != ""
}

// slipDistance counts the letters that are wrong; where nothing but the ends of the last
// part are missing or too many, they count as two.
func slipDistance(name, candidate string) int {
	own, other := lastPart(name), lastPart(candidate)
	d := editDistance(name, candidate)
	if wrong := editDistance(own, other); 2*wrong > max(len(own), len(other)) {
		d = 64
	}
	shorter := min(len(own), len(other))
	if shorter >= 4 && (strings.Contains(other, own) || strings.Contains(own, other)) {
		groups := editDistance(strings.TrimSuffix(name, own), strings.TrimSuffix(candidate, other))
		d = min(d, 2+groups)
	}
	return d
}

func lastPart(name string) string { return name[strings.LastIndex(name, ".")+1:] }

// editDistance returns the number of single letters to change, add or take away to
// make one word of the other (Levenshtein's distance).
func editDistance(a, b string) int {
	if len(a) > 64 || len(b) > 64 {
		return 64
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
