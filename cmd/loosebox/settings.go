package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/settle"
	"loosebox/storage"
	"loosebox/storage/outside"
)

// settingFlags are what is set, and by whom.
type settingFlags struct {
	by, file string
	clear    bool
	asJSON   bool
}

func (e *env) settingsCommand() *cobra.Command {
	var f settingFlags
	c := &cobra.Command{
		Use: "settings [KEY [VALUE]]", Short: "what the practice set, who set it, and on which laptop", Args: cobra.MaximumNArgs(2),
		Long: `settings lists what the practice set. It is the same on every laptop that shares the
record: limits, the letterhead, telephones, and the practice's own files. A machine's own
choices, such as theme, sound and units, stay on it: g on the home screen.

settings KEY VALUE sets one. --file takes a file: practice_logo, or a file such as
ranges.csv. --clear sets it no more. Earlier lines stay in the record. Where two laptops
set different things, loosebox settle lists it.`,
		RunE: func(_ *cobra.Command, args []string) error {
			if err := e.tables(); err != nil {
				return err
			}
			return e.existing(func(r *storage.Record) error { return e.settings(r, args, f) })
		},
	}
	byFlag(c, &f.by, "who sets it")
	c.Flags().StringVar(&f.file, "file", "", "take the value from this file")
	c.Flags().BoolVar(&f.clear, "clear", false, "set it no more")
	jsonFlag(c, &f.asJSON)
	return c
}

func (e *env) settings(r *storage.Record, args []string, f settingFlags) error {
	if len(args) == 0 {
		if f.clear || f.file != "" {
			return usage("name the setting: loosebox settings lists them")
		}
		return e.listSettings(r, "", f.asJSON)
	}
	key := exam.SettingKey(args[0])
	if !key.Own() && !slices.Contains(exam.SettingKeys(), key) {
		return exam.NoSuch("no setting of the practice is called %q; loosebox settings lists them", notation.CleanLine(args[0], 40))
	}
	set, err := e.setting(key, args[1:], f)
	if err != nil {
		return err
	}
	if set == nil {
		return e.listSettings(r, key, f.asJSON)
	}
	if set.By, err = e.person(r, f.by); err != nil {
		return err
	}
	if err := r.SaveSetting(*set); err != nil {
		return err
	}
	if text := e.cameOwn(r); text != "" && !key.Own() {
		e.problem("%s", text)
	}
	return e.listSettings(r, key, f.asJSON)
}

// setting is what is to be set; nil where nothing is.
func (e *env) setting(key exam.SettingKey, value []string, f settingFlags) (*exam.Setting, error) {
	set := &exam.Setting{Key: key, At: e.now()}
	if n := len(value); n+map[bool]int{true: 1}[f.clear]+map[bool]int{true: 1}[f.file != ""] > 1 {
		return nil, usage("give one of VALUE, --file and --clear")
	} else if n == 0 && !f.clear && f.file == "" {
		return nil, nil //nolint:nilnil // nothing is set
	}
	var err error
	switch {
	case f.clear:
	case key == exam.SettingLogo && f.file != "":
		set.Value, err = readLogo(f.file)
	case key.Own() && f.file != "":
		if set.Value, err = outside.ReadFile(f.file, maxOwnFile); err == nil {
			err = e.readsOwn(key, set.Value)
		}
	case f.file != "":
		return nil, usage("--file is for practice_logo and for the practice's own files, such as ranges.csv")
	case key.Own() || key == exam.SettingLogo:
		return nil, usage("%s is a file: --file FILE", key)
	default:
		if set.Value, err = key.Read(value[0]); err != nil {
			return nil, usage("%s: %v", key, err)
		}
	}
	if err == nil {
		err = set.Check()
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(f.file), err)
	}
	return set, nil
}

// settingJSON is one setting of the practice.
type settingJSON struct {
	Key    exam.SettingKey `json:"key"`
	Name   string          `json:"name"`
	Value  *string         `json:"value"` // null for a file or a picture
	Bytes  int             `json:"bytes"`
	SHA256 string          `json:"sha256"`
	By     string          `json:"by"`
	At     *string         `json:"at"` // null for what was set before settings were shared
	Laptop string          `json:"laptop"`
	Here   bool            `json:"this_laptop"`
	// Problem is why the value is not used on this laptop; null where it is.
	Problem *string  `json:"problem"`
	Differ  []string `json:"differ"` // the values that did not know of each other; the last is in use
}

// listSettings lists one setting, or all.
func (e *env) listSettings(r *storage.Record, only exam.SettingKey, asJSON bool) error {
	states, err := r.PracticeSettings()
	if err != nil {
		return err
	}
	list := []settingJSON{}
	rows := [][]string{}
	for _, s := range states {
		if only != "" && s.Key != only {
			continue
		}
		in := s.InUse()
		one := settingJSON{Key: s.Key, Name: s.Key.Called(), Bytes: len(in.Value), By: in.By, Laptop: in.Laptop, Here: in.Own, Differ: []string{}}
		sum := sha256.Sum256(in.Value)
		one.SHA256 = hex.EncodeToString(sum[:])
		if !s.Key.Own() && s.Key != exam.SettingLogo {
			text := notation.CleanLine(string(in.Value), 0)
			one.Value = &text
		}
		if !in.At.IsZero() {
			at := in.At.Format(time.RFC3339)
			one.At = &at
		}
		if s.Differ() {
			for _, c := range settle.Choices(s) {
				one.Differ = append(one.Differ, c.Shown())
			}
		}
		said := in.Who()
		if why := e.unused(in); why != "" {
			one.Problem = &why
			said += "; not used: " + why
		}
		if s.Differ() {
			said += "; differs: loosebox settle"
		}
		list = append(list, one)
		rows = append(rows, []string{string(s.Key), in.Shown(), said})
	}
	if asJSON {
		return e.printJSON(struct {
			Schema   string        `json:"schema"`
			Settings []settingJSON `json:"settings"`
		}{"loosebox/settings/1", list})
	}
	if only == "" {
		var unset []string
		for _, key := range exam.SettingKeys() {
			if !slices.ContainsFunc(list, func(s settingJSON) bool { return s.Key == key }) {
				unset = append(unset, string(key))
			}
		}
		if err := columns(e.out, rows); err != nil || len(unset) == 0 {
			return err
		}
		return e.lines("Not set: " + strings.Join(unset, ", ") + ".")
	}
	if len(rows) == 0 {
		return e.printf("%s is not set.\n", only)
	}
	return columns(e.out, rows)
}

// unused says why a value is not used here; empty where it is.
func (e *env) unused(s exam.Setting) string {
	var err error
	switch {
	case len(s.Value) == 0:
	case s.Key.Own():
		err = e.readsOwn(s.Key, s.Value)
	case s.Key == exam.SettingLogo:
		_, err = readPicture(s.Value, "the logo")
	case !slices.Contains(exam.SettingKeys(), s.Key):
		return "this version does not know it"
	default:
		err = new(exam.Common).Use(s.Key, s.Value)
	}
	if err == nil {
		return ""
	}
	return inWords(err)
}
