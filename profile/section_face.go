package profile

import "fullerwright/profile/geom"

// FaceChain returns the line of one face of the section from the edge side up to the
// back, with X out of that face and Y toward the spine: the part of Chain on that side,
// as exact as it.
func (c CrossSection) FaceChain(face Face) (geom.Chain, error) {
	return geom.NewChain(dropEmpty(c.facePieces(face))...)
}
