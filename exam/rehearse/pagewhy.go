package rehearse

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// How each mark is made, in words for the person who is marked.
const (
	whyAgain  = "Every mark is worked out again from the stored entries, the case and the seed: it is the same whenever it is made. The same case with the same seed is the same horse."
	whyScore  = "Points are our own: an answer 1, one that had to be found or that stands at recheck or above 3, a choice at danger 3, the order and the hand-off 5 each. Half where it was found in part or measured off at its true level; none where the sense had less time than it takes. A wrong answer takes 1 off. Usual answers count for as much as was found of what there was to find. Dangers, order and hand-off count for as much as was examined."
	whyBetter = "At most three, in this order: what can hurt somebody, what the veterinarian did not get to know, what was wrong, what was left out, what was out of order."
	whyOrder  = "One stop is one place round the horse: a step with its sites there. Stops without an answer are missed, not out of order. Out of order are the fewest stops whose moving mends the order. Edit distance: stops to insert, drop or replace (Levenshtein 1966). Tau: pairs of stops in order minus pairs turned round, over all pairs (Kendall 1938)."
	whyMissed = "A step without any answer is missed; one with answers at some of its sites misses the others. One answer for all sites counts at each. A step that cannot be done gets its reason (x): the reason is checked against the horse."
	whyPassed = "What was not looked at is not right. A step may be passed over only where this horse cannot be examined, and only for the reason that holds."
	whySafety = "Each choice at a moment at which people get hurt counts once, the first time; a plunger that was not drawn back counts too."
	whyTold   = "Told is what was found and stood in the record when it was handed off, to somebody by name."
	whyTimes  = "A step has the time since the line before it, all its sites together; notes belong to the answer that follows."

	whyContext = "What the keeper said went on in the last half hour, beside what you wrote: it changes what a fast heart or a warm horse means."
	whyRaised  = "A remark that the true findings raise, at recheck or above, and yours did not. It follows from the answers it names."
	whyCause   = "A remark, at recheck or above, that only your answers raise: the true findings do not."
)

// whyCount says what a count is held against.
func whyCount(c CountMark) string {
	switch c.Method {
	case exam.CountTapped:
		return fmt.Sprintf("A tapped count is set beside the beats of its own stretch; right within %s %%, at least %s a minute (our own limit: a tap missed in twenty is out). Late or early and scatter: the mean and the standard deviation of tap minus nearest beat, without the first two.",
			notation.FormatNumber(100*tappedAllowed, 0), notation.FormatNumber(tappedLeast, 1))
	case exam.CountByEar:
		return "A count by ear comes in steps of 60 through its seconds: right within one of them, and a little for the first beat (our own limit)."
	case exam.CountTyped:
	}
	return fmt.Sprintf("Of a typed rate nothing more is known: right within %s %%, at least %s a minute (our own limit).",
		notation.FormatNumber(100*typedAllowed, 0), notation.FormatNumber(typedLeast, 0))
}

// whyAnswer says when an answer counts as right.
func whyAnswer(f FindingMark) string {
	rule := "Words must be the same. A scale may be one off where both weigh the same. A temperature may be 0.15 C off, a time 0.3 s or 15 %, a weight 5 % (our own limits). The sign / stands where it was found in part, or where the number is off at its true level."
	if f.Need != nil {
		rule = fmt.Sprintf("An answer is earned: this place takes %s s at least (%s; %s), it had %s s. ", wholeS(f.Need.Seconds), f.Need.Why, f.Need.Source, wholeS(*f.SensedS)) + rule
	}
	if f.Level > 0 {
		return "True here is a finding at the level " + f.Level.String() + ". " + rule
	}
	return rule
}
