package examtest

import (
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// TooStrong says why a source does not earn its evidence; empty where it does. A page of a practice, a company or a magazine
// is no published source, what was only remembered makes the whole of it from memory, and study cards, sites that share
// uploads and pages of sums are no source at all.
func TooStrong(source string, evidence exam.Evidence) string {
	for _, page := range []string{
		"knowt", "studylib", "docplayer", "scribd", "doczz", "quizlet", "testandcalc", "411answers", "medic.studio", "horseillustrated", "xzhbc", "cowgirl",
		"study notes",
	} {
		if strings.Contains(source, page) {
			return page + " is no source to cite"
		}
	}
	if evidence != ranges.Published {
		return ""
	}
	if strings.Contains(strings.ReplaceAll(source, "citation from memory", ""), "from memory") {
		return "a part of it is from memory"
	}
	for _, page := range []string{
		"drsfostersmith", "enduroequine", "provet.co.uk", "greenelewis", "atlantaequine", "teamriderequine", "bestvetaustin", "bova.vet", "midrivers", "Mid-Rivers",
		"altasciences", "equineveterinaryservices", "azequine", "vetisearch", "statelinetack", "horsesdaily", "thehorse.com", "wikipedia", "ofhorse", "pages of practices",
		"common practice", "habit of the trade",
	} {
		if strings.Contains(source, page) {
			return page + " is no published source"
		}
	}
	return ""
}
