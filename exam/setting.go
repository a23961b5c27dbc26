package exam

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// SettingKey names something that a whole practice sets: a number, a text, or a file of its
// own (OwnFile). It is stable for ever.
type SettingKey string

// The settings of a practice that are no file.
const (
	SettingSiteML     SettingKey = "site_ml"          // most mL into one muscle site
	SettingWatch      SettingKey = "watch_minutes"    // observation after an injection
	SettingVetPhone   SettingKey = "vet_phone"        // how the veterinarian is called
	SettingVetNight   SettingKey = "vet_night"        // how at night
	SettingName       SettingKey = "practice_name"    // the letterhead: Practice
	SettingAddress    SettingKey = "practice_address" //
	SettingPhone      SettingKey = "practice_phone"   //
	SettingLicence    SettingKey = "practice_license" //
	SettingPaper      SettingKey = "practice_paper"   //
	SettingLogo       SettingKey = "practice_logo"    // a picture, PNG
	SettingRehearsals SettingKey = "rehearsals"       // LeftOut: not exchanged with other laptops
)

// LeftOut is the value of SettingRehearsals where rehearsals are not exchanged.
const LeftOut = "left out"

// MaxSetting is the longest value, in bytes: as a line it fits into one segment of a log.
const MaxSetting = 140 << 10

// Setting is a line by which somebody sets something for the whole practice.
type Setting struct {
	Key   SettingKey `json:"key" text:"name"`
	Value []byte     `json:"value,omitempty"` // empty: it is set no more
	// Replaces are the lines about the same key that the writer held and that this one
	// takes the place of.
	Replaces []Hash    `json:"replaces,omitempty" text:"name" most:"256,a setting"`
	By       string    `json:"by,omitempty"`
	At       time.Time `json:"at,omitzero"` // zero for what was set before settings were lines
	// Line is the identity of the line, Laptop on which laptop it was written, and Own that
	// this is the one; they follow from the log and are not stored.
	Line   Hash   `json:"-" text:"-"`
	Laptop string `json:"-" text:"-"`
	Own    bool   `json:"-" text:"-"`
}

// Check says why a line cannot be kept; the error is a *notation.Refusal.
func (s Setting) Check() error {
	switch {
	case s.Key == "" || string(s.Key) != notation.CleanLine(string(s.Key), maxName):
		return &notation.Refusal{Why: "A setting needs its name. Nothing was saved."}
	case len(s.Value) > MaxSetting:
		return &notation.Refusal{Why: fmt.Sprintf("%s is longer than %d kB, the most that is shared. Nothing was saved.", s.Key, MaxSetting>>10)}
	}
	return nil
}

// SettingState is a setting of the practice as it stands.
type SettingState struct {
	Key SettingKey
	// Said are the lines that no other one replaces, in the order of the record. The last is
	// in use; where their values differ their writers did not know of each other.
	Said []Setting
}

// InUse is the line that counts.
func (s SettingState) InUse() Setting { return s.Said[len(s.Said)-1] }

// Differ says that somebody must choose.
func (s SettingState) Differ() bool {
	return slices.ContainsFunc(s.Said, func(o Setting) bool { return string(o.Value) != string(s.Said[0].Value) })
}

// Lines are the identities of the lines that stand.
func (s SettingState) Lines() []Hash {
	out := make([]Hash, len(s.Said))
	for i, l := range s.Said {
		out[i] = l.Line
	}
	return out
}

// FoldSettings are the lines about one key that no other one replaces; they keep their order.
func FoldSettings(lines []Setting) []Setting {
	replaced := map[Hash]bool{}
	for _, l := range lines {
		for _, h := range l.Replaces {
			replaced[h] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(lines), func(l Setting) bool { return replaced[l.Line] })
}

// Common is what a whole practice works by. It follows from the lines of the record, and is
// the same on every laptop that holds them.
type Common struct {
	// VetPhone is how the veterinarian is called, VetNight how at night; as they are dialled.
	VetPhone, VetNight string
	// Practice stands at the head of pages that leave the practice.
	Practice Practice
	// SiteML is the practice's volume into one muscle site from which a question
	// is asked, WatchMinutes how long a horse is watched after an injection; 0
	// where the practice has not set them.
	SiteML       float64
	WatchMinutes int
	// NoRehearsals says that rehearsals stay on the laptop on which they were made.
	NoRehearsals bool
}

// Use puts a value where it counts. One that could not have been typed is refused, wherever
// it comes from; a key that this version does not know, or a file, is left alone.
func (c *Common) Use(key SettingKey, value []byte) error {
	text := string(value)
	if key != SettingLogo {
		read, err := key.Read(text)
		if err != nil {
			return err
		}
		text = string(read)
	}
	switch key {
	case SettingSiteML:
		c.SiteML, _ = strconv.ParseFloat(text, 64) // it was read
	case SettingWatch:
		c.WatchMinutes, _ = strconv.Atoi(text)
	case SettingVetPhone:
		c.VetPhone = text
	case SettingVetNight:
		c.VetNight = text
	case SettingName:
		c.Practice.Name = text
	case SettingAddress:
		c.Practice.Address = text
	case SettingPhone:
		c.Practice.Phone = text
	case SettingLicence:
		c.Practice.Licence = text
	case SettingPaper:
		c.Practice.Paper = text
	case SettingLogo:
		c.Practice.Picture = value
	case SettingRehearsals:
		c.NoRehearsals = text == LeftOut
	}
	return nil
}

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

// Shown is a value for a person: a file or a picture by its size.
func (s Setting) Shown() string {
	text := notation.CleanLine(string(s.Value), 60)
	switch {
	case len(s.Value) == 0:
		return "not set"
	case s.Key.Own() || s.Key == SettingLogo || len(s.Value) > mostHead:
		return notation.Counted((len(s.Value)+1023)>>10, "kB")
	case s.Key == SettingSiteML:
		return text + " mL"
	case s.Key == SettingWatch:
		return text + " min"
	}
	return text
}

// Who says who set it, where and when, for a person; empty where that is not known.
func (s Setting) Who() string {
	by := notation.CleanLine(s.By, maxName)
	if by == "" {
		by = "somebody"
	}
	text := "set by " + by
	switch {
	case s.Own:
		text += " on this laptop"
	case s.Laptop != "":
		text += " on " + notation.CleanLine(s.Laptop, 40)
	}
	if s.At.IsZero() {
		return text + ", before settings were shared"
	}
	return text + ", " + s.At.Format("2 Jan 2006 15:04")
}
