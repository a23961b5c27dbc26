package routinefile

import (
	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// nearest is the step that was probably meant: the one whose identity or name
// is nearest. The second result is false where none is near.
func nearest(t *exam.Steps, typed string) (exam.StepID, bool) {
	var words []string
	var ids []exam.StepID
	for _, s := range t.All() {
		words = append(words, string(s.ID), s.Name, s.Short)
		ids = append(ids, s.ID, s.ID, s.ID)
	}
	i := ownfile.Nearest(typed, words)
	if i < 0 {
		return "", false
	}
	return ids[i], true
}
