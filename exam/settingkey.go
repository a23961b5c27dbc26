package exam

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// SettingKey names something that a whole practice sets: a number, a text, or a file of its
// own (SettingKey.Own). It is stable for ever.
type SettingKey string

// The settings of a practice that are no file.
const (
	SettingSiteML     SettingKey = "site_ml"          // most mL into one muscle site
	SettingWatch      SettingKey = "watch_minutes"    // observation after an injection
	SettingVetPhone   SettingKey = "vet_phone"        // how the veterinarian is called
	SettingVetNight   SettingKey = "vet_night"        // how at night
	SettingName       SettingKey = "practice_name"    // of the Letterhead
	SettingAddress    SettingKey = "practice_address" //
	SettingPhone      SettingKey = "practice_phone"   //
	SettingLicence    SettingKey = "practice_license" //
	SettingPaper      SettingKey = "practice_paper"   //
	SettingLogo       SettingKey = "practice_logo"    // a picture, PNG
	SettingRehearsals SettingKey = "rehearsals"       // LeftOut: not exchanged with other laptops
)

// LeftOut is the value of SettingRehearsals where rehearsals are not exchanged.
const LeftOut = "left out"

// Bounds of a practice's own numbers, and of a line of its letterhead.
const (
	mostSiteML  = 100 // mL
	mostMinutes = 24 * 60
	mostHead    = 200 // characters
)

// Read reads what somebody typed for a setting, or what a line says: the value as it is
// kept. Nothing typed is the empty value, by which a setting is set no more. The error is a
// *notation.Refusal.
func (k SettingKey) Read(typed string) ([]byte, error) {
	text := notation.CleanLine(typed, mostHead)
	switch k {
	case SettingSiteML:
		return readNumber(text, "ml", mostSiteML, false)
	case SettingWatch:
		return readNumber(text, "min", mostMinutes, true)
	case SettingVetPhone, SettingVetNight:
		text = notation.CleanLine(typed, MaxPhone)
	case SettingPaper:
		for _, p := range []string{"", "A4", "Letter"} {
			if strings.EqualFold(text, p) {
				return []byte(p), nil
			}
		}
		return nil, &notation.Refusal{Typed: text, Why: "paper is A4 or Letter"}
	case SettingRehearsals:
		if text != "" && text != LeftOut {
			return nil, &notation.Refusal{Typed: text, Why: "type \"" + LeftOut + "\", or nothing"}
		}
	case SettingName, SettingAddress, SettingPhone, SettingLicence, SettingLogo: // a line as it is
	}
	return []byte(text), nil
}

// readNumber reads a number above 0 with or without its unit.
func readNumber(text, unit string, most float64, whole bool) ([]byte, error) {
	plain := strings.ToLower(strings.ReplaceAll(text, ",", "."))
	if plain = strings.TrimSpace(strings.TrimSuffix(plain, unit)); plain == "" {
		return nil, nil
	}
	v, err := strconv.ParseFloat(plain, 64)
	switch {
	case err != nil || strings.Trim(plain, "0123456789.") != "": // plain digits only: no exponent, no sign
		return nil, &notation.Refusal{Typed: text, Why: "type a number, or nothing"}
	case v <= 0:
		return nil, &notation.Refusal{Typed: text, Why: "type a number above 0, or nothing"}
	case v > most:
		return nil, &notation.Refusal{Typed: text, Why: fmt.Sprintf("at most %.0f", most)}
	case whole && v != math.Trunc(v):
		return nil, &notation.Refusal{Typed: text, Why: "type whole minutes"}
	}
	return []byte(strconv.FormatFloat(v, 'f', -1, 64)), nil
}

// Own says that a key is of a file of the practice's own, and what its place in the data
// folder is: a name, or a folder and a name with a slash between. Only what every system
// takes as a name is one.
func (k SettingKey) Own() bool {
	switch string(k) {
	case "ranges.csv", "schedule.csv", "syringes.csv":
		return true
	}
	folder, name, ok := strings.Cut(string(k), "/")
	name, yaml := strings.CutSuffix(name, ".yaml")
	if !ok || !yaml || folder != "routines" && folder != "cases" || name == "" || strings.TrimSpace(name) != name || strings.HasPrefix(name, ".") || strings.HasSuffix(name, ".") {
		return false
	}
	for _, r := range name {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' || r == 0x7f {
			return false
		}
	}
	base, _, _ := strings.Cut(strings.ToLower(name), ".")
	device := base == "con" || base == "prn" || base == "aux" || base == "nul" || // of Windows
		len(base) == 4 && (base[:3] == "com" || base[:3] == "lpt")
	return !device && string(k) == notation.CleanLine(string(k), maxName)
}

// Called is the setting for a person.
func (k SettingKey) Called() string { return notation.CleanLine(settingWords.Of(k), maxName) }

// SettingKeys are the settings that are no file, in the order in which they are shown.
func SettingKeys() []SettingKey {
	return []SettingKey{
		SettingSiteML, SettingWatch, SettingVetPhone, SettingVetNight, SettingName, SettingAddress, SettingPhone, SettingLicence, SettingPaper, SettingLogo,
		SettingRehearsals,
	}
}
