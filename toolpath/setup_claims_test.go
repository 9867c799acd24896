package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/profile"
)

// TestClaimsAgainstSetups: worked out on paper for a bar that lies with its tang end at
// the stop and its spine at the fixed jaw while the right face is up. A turn about Y
// brings the point end to the stop, one about X the edge to the jaw.
func TestClaimsAgainstSetups(t *testing.T) {
	tang, point := Claim{"TANG END", 7}, Claim{"POINT END", 7}
	for name, row := range map[string]struct {
		face profile.Face
		flip Flip
		said SetupClaims
		want []string
	}{
		"right face, tang end":   {profile.Right, AboutY, SetupClaims{EndAtStop: tang, PointLies: Claim{"RIGHT", 7}, EdgeAtJaw: Claim{"SPINE", 6}}, nil},
		"right face, point end":  {profile.Right, AboutY, SetupClaims{EndAtStop: point}, []string{"wrong end at the stop"}},
		"left about Y, tang end": {profile.Left, AboutY, SetupClaims{EndAtStop: tang, PointLies: Claim{"RIGHT", 7}}, []string{"wrong end at the stop", "wrong end at the stop"}},
		"left about Y":           {profile.Left, AboutY, SetupClaims{EndAtStop: point, PointLies: Claim{"LEFT", 7}, EdgeAtJaw: Claim{"SPINE", 6}}, nil},
		"left about X":           {profile.Left, AboutX, SetupClaims{EndAtStop: tang, EdgeAtJaw: Claim{"EDGE", 6}}, nil},
		"left about X, as about Y": {profile.Left, AboutX, SetupClaims{EndAtStop: point, EdgeAtJaw: Claim{"SPINE", 6}},
			[]string{"wrong end at the stop", "wrong side at the fixed jaw"}},
		"nothing said": {profile.Left, AboutX, SetupClaims{}, nil},
	} {
		var kinds []string
		for _, f := range Contradictions(row.face, row.flip, row.said) {
			kinds = append(kinds, f.Kind)
			assert.Contains(t, []int{6, 7}, f.TextLine, name)
		}
		assert.Equal(t, row.want, kinds, name)
	}
}
