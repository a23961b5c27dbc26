package script

// Reason is why something is stopped or not done, with the letter that says it.
type Reason struct{ Press, Words string }

// OwnWords is the letter behind which a reason is typed. It is no letter of a reason.
const OwnWords = "w"

// WhyStopped are the usual reasons to stop while a needle is in.
func WhyStopped() []Reason {
	return []Reason{
		{"m", "the horse moved, or it is not safe"},
		{"c", "the needle came out or moved"},
		{"b", "blood or a swelling at the needle"},
		{"v", "the veterinarian said stop"},
		{"e", "syringe, needle or product is not in order"},
	}
}

// WhyNotGiven are the usual reasons not to give what was ordered.
func WhyNotGiven() []Reason {
	return []Reason{
		{"m", "the horse is not safe to handle"},
		{"v", "the veterinarian said wait or stop"},
		{"b", "blood came, or the site is not in order"},
		{"e", "syringe, needle or product is not in order"},
		{"r", "the owner refused"},
	}
}

// WhyNotDrawn are the usual reasons to stop a blood draw, or not to begin it.
func WhyNotDrawn() []Reason {
	return []Reason{
		{"m", "the horse moved, or it is not safe"},
		{"c", "the needle came out, and no more blood comes"},
		{"b", "a swelling at the vein"},
		{"v", "the veterinarian said wait or stop"},
		{"e", "needle or tubes are not in order"},
		{"r", "the owner refused"},
	}
}

// WhyLeft are the usual reasons to leave an observation before its end.
func WhyLeft() []Reason {
	return []Reason{
		{"o", "the owner observes, and knows what to look for"},
		{"v", "the veterinarian observes"},
		{"m", "called away to another horse"},
	}
}

// WhyDeclined are the usual reasons not to begin an observation.
func WhyDeclined() []Reason {
	return []Reason{
		{"o", "the owner observes, and knows what to look for"},
		{"v", "the veterinarian observes"},
		{"r", "the owner refused"},
	}
}

// Letters of the tubes of one draw, in the order in which they are filled: each
// tube has its own, so that a key pressed twice fills one tube.
const tubeLetters = "abcfgijmpqruvyz"

// TubeLetter is the letter of a tube by how many are filled before it.
func TubeLetter(filled int) string {
	i := filled % len(tubeLetters)
	return tubeLetters[i : i+1]
}

// Letters of what is seen of a sign of danger. They are none of the letters of the
// question after it, how much went in.
const seenLetters = "bcdef"

// SeenLetter is the letter of a line of what is seen.
func SeenLetter(i int) string {
	i %= len(seenLetters)
	return seenLetters[i : i+1]
}

// ReadOutDone is the letter that says that a sign of danger was read out.
const ReadOutDone = "r"
