package rehearse

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	faultWords = words.New("fault of a rehearsal", map[FaultKind]string{
		FaultSafety:  "safety",
		FaultFinding: "finding",
		FaultCount:   "count",
		FaultMissed:  "step missed",
		FaultSide:    "side missed",
		FaultNotDone: "not done",
		FaultOrder:   "order",
		FaultContext: "context",
		FaultRemark:  "remark not raised",
		FaultHandOff: "hand-off",
		FaultHurried: "too soon",
	})
	soundWords = words.New("gut sound", map[SoundKind]string{
		Gurgle: "soft gurgle",
		Rumble: "deep rumble",
		Rush:   "long rush, like a drain",
		Faint:  "faint, far-off gurgle",
		Loud:   "loud rumble, close by",
	})
	shownWords = words.New("when marks are shown", map[MarksShown]string{
		ShownAtOnce: "at once",
		ShownAfter:  "after the deadline",
		ShownByHand: "by the teacher",
	})
)

// String is the fault for a person.
func (k FaultKind) String() string { return faultWords.Of(k) }

// String is the sound for a person.
func (k SoundKind) String() string { return soundWords.Of(k) }

// String is the moment for a person.
func (s MarksShown) String() string { return shownWords.Of(s) }
