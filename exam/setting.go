package exam

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"loosebox/exam/notation"
)

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
	Practice Letterhead
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
