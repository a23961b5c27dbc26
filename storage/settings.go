package storage

import (
	"encoding/json"
	"fmt"

	"loosebox/exam"
)

// Settings returns this machine's settings and those of the practice. Fields that a newer
// version wrote are passed over, and so is a value of the practice that could not be typed.
func (r *Record) Settings() (exam.Settings, error) {
	var s exam.Settings
	err := r.view(func(tx txn) (err error) {
		if s, err = readSettings(tx); err == nil {
			s.Common, err = readCommon(tx.in(visitsNamespace))
		}
		return err
	})
	return s, err
}

// readSettings reads the machine's own settings.
func readSettings(tx txn) (exam.Settings, error) {
	var s exam.Settings
	data, err := getRow(tx, bucketSettings, []byte(rowSettings))
	if err != nil {
		return s, err
	}
	if data == nil {
		return s, damaged("the settings are missing")
	}
	if err := json.Unmarshal(data, &s); err != nil {
		return s, damaged("the settings cannot be read (%v)", err)
	}
	return s, nil
}

// SaveSettings replaces this machine's settings. A line of the log says what they were
// from then on.
func (r *Record) SaveSettings(s exam.Settings) error {
	s, err := exam.Clean(s)
	if err != nil {
		return err
	}
	data, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("write settings: %w", err)
	}
	return r.update(func(tx txn) error {
		tx = tx.in(visitsNamespace)
		if _, _, _, err := add(tx, exam.LineSettings, s); err != nil {
			return err
		}
		return putRow(tx, bucketSettings, []byte(rowSettings), data)
	})
}
