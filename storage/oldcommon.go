package storage

import (
	"encoding/json"
	"fmt"
	"strconv"

	"loosebox/exam"
)

// oldCommon is what was among a machine's settings before schema 11.
type oldCommon struct {
	VetPhone string `json:"vet_phone,omitempty"`
	VetNight string `json:"vet_night,omitempty"`
	Practice struct {
		exam.Letterhead
		Logo string `json:"logo,omitempty"` // path of a picture
	} `json:"practice,omitzero"`
	SiteML       float64 `json:"site_ml,omitempty"`
	WatchMinutes int     `json:"watch_minutes,omitempty"`
}

// readOldCommon lists what of the practice is among the machine's settings still, of which
// no line says anything.
func readOldCommon(tx txn) ([]exam.Setting, error) {
	data, err := getRow(tx, bucketSettings, []byte(rowSettings))
	if err != nil || data == nil {
		return nil, err
	}
	var old oldCommon
	if json.Unmarshal(data, &old) != nil {
		return nil, nil // which whoever reads the settings says
	}
	number := func(v float64) string {
		if v <= 0 {
			return ""
		}
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	p := old.Practice
	var out []exam.Setting
	for _, one := range []struct {
		key  exam.SettingKey
		text string
	}{
		{exam.SettingSiteML, number(old.SiteML)},
		{exam.SettingWatch, number(float64(old.WatchMinutes))},
		{exam.SettingVetPhone, old.VetPhone},
		{exam.SettingVetNight, old.VetNight},
		{exam.SettingName, p.Name},
		{exam.SettingAddress, p.Address},
		{exam.SettingPhone, p.Phone},
		{exam.SettingLicence, p.Licence},
		{exam.SettingPaper, p.Paper},
	} {
		value, err := one.key.Read(one.text)
		if err != nil || len(value) == 0 {
			continue
		}
		said, err := getRow(tx, bucketSettingLines, []byte(one.key))
		if err != nil {
			return nil, err
		}
		if said == nil {
			out = append(out, exam.Setting{Key: one.key, Value: value})
		}
	}
	return out, nil
}

// oldCommon is what of the practice is among the machine's settings still.
func (r *Record) oldCommon() (old []exam.Setting, err error) {
	err = r.view(func(tx txn) (err error) {
		old, err = readOldCommon(tx)
		return err
	})
	return old, err
}

// takeOldCommon writes it as lines: once, at the first opening by this version.
func (r *Record) takeOldCommon(old []exam.Setting) error {
	if len(old) == 0 {
		return nil
	}
	return r.update(func(tx txn) error {
		own, err := readSettings(tx)
		if err != nil {
			return err
		}
		for _, s := range old {
			s.By = own.Person
			if err := putSetting(tx, s); err != nil {
				return fmt.Errorf("write the settings of the practice as lines: %w", err)
			}
		}
		return nil
	})
}

// OldLogo is the path of the picture that an earlier version kept among this machine's
// settings; empty for none.
func (r *Record) OldLogo() (path string, err error) {
	err = r.view(func(tx txn) error {
		data, err := getRow(tx, bucketSettings, []byte(rowSettings))
		var old oldCommon
		if err == nil && json.Unmarshal(data, &old) == nil {
			path = old.Practice.Logo
		}
		return err
	})
	return path, err
}
