package exam

// Before schema 9 of the record some keys were sentences. Lines that hold them are signed and stay as they are; the tables
// here read them as the keys of today, from a record and from the files that it was exported to. The key of a choice beside
// which a person may type own words (StopReason, AmendReason, CheckAnswer, NoHandOff) is still the sentence itself: a short
// one, like "moved", would be taken for what somebody typed, and the other way round.
var (
	oldInjectionPhases = map[string]InjectionPhase{
		"order and check list": InjectionReady, "aspirated, clear": InjectionClear, "aspirated, blood": InjectionBlood,
		"blood drips, no pulse": InjectionInVein, "blood pulses": InjectionPulsing,
		"needle out, not in place": InjectionNotFound, "noted from earlier": InjectionNoted,
	}
	oldDrawPhases  = map[string]DrawPhase{"needle out, no blood": DrawMissed}
	oldWatchPhases = map[string]WatchPhase{"ended, nothing seen": WatchQuiet, "left before the end": WatchLeftEarly}
	oldWithouts    = map[string]Without{"given by the veterinarian": OwnHands, "ordered aloud in an emergency": Emergency}
	oldConsents    = map[string]ConsentHow{"said, here": ConsentSaid, "said, by telephone": ConsentByTelephone}
)

// readKey is the key of a stored text: that of its table of old keys, or the text itself.
func readKey[K ~string](text []byte, old map[string]K) K {
	if key, ok := old[string(text)]; ok {
		return key
	}
	return K(text)
}

// UnmarshalText reads a stored phase, also one of before schema 9.
func (p *InjectionPhase) UnmarshalText(text []byte) error {
	*p = readKey(text, oldInjectionPhases)
	return nil
}

// UnmarshalText reads a stored phase, also one of before schema 9.
func (p *DrawPhase) UnmarshalText(text []byte) error {
	*p = readKey(text, oldDrawPhases)
	return nil
}

// UnmarshalText reads a stored phase, also one of before schema 9.
func (p *WatchPhase) UnmarshalText(text []byte) error {
	*p = readKey(text, oldWatchPhases)
	return nil
}

// UnmarshalText reads a stored reason why there is no decision, also one of before schema 9.
func (w *Without) UnmarshalText(text []byte) error {
	*w = readKey(text, oldWithouts)
	return nil
}

// UnmarshalText reads a stored way of consent, also one of before schema 9.
func (c *ConsentHow) UnmarshalText(text []byte) error {
	*c = readKey(text, oldConsents)
	return nil
}
