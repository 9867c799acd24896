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
	best, distance := "", 4
	consider := func(g Group, weight int) {
		for _, k := range g.Keys {
			if d := editDistance(name, k.Name) + weight; d < distance {
				best, distance = strings.TrimPrefix(g.Name+"."+k.Name, "."), d
			}
		}
	}
	consider(r.group, 0)
	for _, g := range r.doc.schema.Groups {
		consider(g, 1)
	}
	if best == "" {
		var keys []string
		for _, k := range r.group.Keys {
			keys = append(keys, k.Name)
		}
		return "the keys here are " + strings.Join(keys, ", ")
	}
	return fmt.Sprintf("did you mean %s?", best)
}

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
