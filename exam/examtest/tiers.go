package examtest

import (
	"fmt"
	"strings"

	"loosebox/exam"
)

// NoSource says why a text is no source to cite, whatever it says: study cards, sites that share uploads, hobby and toy
// pages, teaching videos. Empty where it is none of these kinds.
func NoSource(text string) string {
	for _, page := range []string{
		"knowt", "studylib", "docplayer", "scribd", "doczz", "quizlet", "testandcalc", "411answers", "medic.studio", "horseillustrated", "xzhbc", "cowgirl",
		"study notes", "flashcard", "brainscape", "freezingblue", "gizmo.ai", "slideplayer", "slideshare", "pdfroom", "anyflip", "flipbuilder", "docslib",
		"breyer", "lilbeginnings", "thehorseaholic", "qualitymules", "blogspot", "homestead", "coursera", "youtube", "video",
	} {
		if strings.Contains(strings.ToLower(text), page) {
			return page + " is no source to cite"
		}
	}
	return ""
}

// TooStrong says why a source does not earn its evidence; empty where it does. Every part of it, divided by "; ", has its
// tier in works: none of them may be weaker than the evidence.
func TooStrong(source string, evidence exam.Evidence) string {
	if why := NoSource(source); why != "" {
		return why
	}
	tiers := works()
	for part := range strings.SplitSeq(source, "; ") {
		switch tier, ok := tiers[part]; {
		case !ok:
			return fmt.Sprintf("%q has no tier: enter it in exam/examtest/works.go", part)
		case !tier.Carries(evidence):
			return fmt.Sprintf("%q is %s, not %s", part, tier, evidence)
		}
	}
	return ""
}
