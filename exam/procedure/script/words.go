package script

import "loosebox/ranges/words"

// consentAnswer says whether consent was given.
type consentAnswer string

const (
	consentGiven   consentAnswer = "given"
	consentRefused consentAnswer = "refused"
)

// What a person reads for the keys of this package.
var consentWords = words.New("answer to consent", map[consentAnswer]string{consentGiven: "given", consentRefused: "refused"})

// String is the answer for a person.
func (c consentAnswer) String() string { return consentWords.Of(c) }
