package script

import "loosebox/exam"

// Reason is why something is stopped or not done, with the letter that says it.
type Reason struct {
	Press string
	Why   exam.StopReason
}

// OwnWords is the letter behind which a reason is typed. It is no letter of a reason.
const OwnWords = "w"

// WhyStopped are the usual reasons to stop while a needle is in.
func WhyStopped() []Reason {
	return []Reason{
		{"m", exam.StopMoved},
		{"c", exam.StopNeedleOut},
		{"b", exam.StopSwelling},
		{"v", exam.StopVetSaidStop},
		{"e", exam.StopEquipment},
	}
}

// WhyNotGiven are the usual reasons not to give what was ordered.
func WhyNotGiven() []Reason {
	return []Reason{
		{"m", exam.StopUnsafe},
		{"v", exam.StopVetSaidWait},
		{"b", exam.StopSite},
		{"e", exam.StopEquipment},
		{"r", exam.StopOwnerRefused},
	}
}

// WhyNotDrawn are the usual reasons to stop a blood draw, or not to begin it.
func WhyNotDrawn() []Reason {
	return []Reason{
		{"m", exam.StopMoved},
		{"c", exam.StopNoMoreBlood},
		{"b", exam.StopVeinSwelling},
		{"v", exam.StopVetSaidWait},
		{"e", exam.StopTubes},
		{"r", exam.StopOwnerRefused},
	}
}

// WhyLeft are the usual reasons to leave an observation before its end.
func WhyLeft() []Reason {
	return []Reason{
		{"o", exam.OwnerObserves},
		{"v", exam.VetObserves},
		{"m", exam.CalledAway},
	}
}

// WhyDeclined are the usual reasons not to begin an observation.
func WhyDeclined() []Reason {
	return []Reason{
		{"o", exam.OwnerObserves},
		{"v", exam.VetObserves},
		{"r", exam.StopOwnerRefused},
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
