package rehearse

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// How each mark is made, in words for the person who is marked.
const (
	whyAgain  = "Every mark is worked out again from the saved entries, the case and the seed. The same case with the same seed is the same horse."
	whyScore  = "Points are our own. An answer: 1; one that had to be found, or at recheck or above: 3. A choice at danger: 3. The order and the hand-off: 5 each. Half if found in part, or measured inexactly at its true level. None if there was too little time. A wrong answer takes 1 off. Usual answers count for as much as was found of what there was to find. Dangers, order and hand-off count for as much as was examined."
	whyBetter = "At most three, in this order: dangers, what the veterinarian was not told, wrong answers, missing answers, order."
	whyOrder  = "A step counts once with its sites. Steps without an answer are missed, not out of order. Out of order: the fewest steps to move. Edit distance: steps to insert, drop or replace (Levenshtein 1966). Tau: pairs in order minus pairs reversed, over all pairs (Kendall 1938)."
	whyMissed = "A step without any answer is missed; so is a site without one. One answer for all sites counts at each. A step that cannot be done needs a reason (x). The reason is checked against the horse."
	whyPassed = "What was not examined is not right. A step may be not done only if the horse cannot be examined there, with the true reason."
	whySafety = "Each choice at a moment of danger counts once, the first time. Not aspirating counts too."
	whyTold   = "Told: found and in the record at the hand-off, to a person by name."
	whyTimes  = "A step has the time since the entry before it, all its sites together. A comment belongs to the next answer."

	whyContext = "What the groom said about the last 30 minutes, beside your entry. It changes what a fast heart or a warm horse means."
	whyRaised  = "A remark at recheck or above that the true findings raise and yours did not."
	whyCause   = "A remark at recheck or above that only your answers raise."
)

// whyCount says what a count is held against.
func whyCount(c CountMark) string {
	switch c.Method {
	case exam.CountTapped:
		return fmt.Sprintf("A tapped count is compared with the beats of its own stretch. Right within %s %%, at least %s a minute (our own limit). Late or early, and variation: mean and standard deviation of tap minus nearest beat, without the first two.",
			notation.FormatNumber(100*tappedAllowed, 0), notation.FormatNumber(tappedLeast, 1))
	case exam.CountByEar:
		return "A timed count has steps of 60 divided by its seconds. Right within one step, and a little for the first beat (our own limit)."
	case exam.CountTyped:
	}
	return fmt.Sprintf("A typed rate is right within %s %%, at least %s a minute (our own limit).",
		notation.FormatNumber(100*typedAllowed, 0), notation.FormatNumber(typedLeast, 0))
}

// whyAnswer says when an answer counts as right.
func whyAnswer(f FindingMark) string {
	rule := "Words must be the same. A scale may be one off if both have the same level. Temperature: within 0.15 C. Time: 0.3 s or 15 %. Weight: 5 % (our own limits). The sign / means found in part, or inexact at its true level."
	if f.Need != nil {
		rule = fmt.Sprintf("This site needs at least %s s (%s; %s); it had %s s. ", wholeS(f.Need.Seconds), f.Need.Why, f.Need.Source, wholeS(*f.SensedS)) + rule
	}
	if f.Level > 0 {
		return "The right answer here has the level " + f.Level.String() + ". " + rule
	}
	return rule
}
