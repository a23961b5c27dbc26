package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/storage"
)

func TestASchemaIsMadeInSteps(t *testing.T) {
	db, err := bbolt.Open(t.TempDir()+"/x.db", 0o600, nil)
	require.NoError(t, err)
	defer func() { require.NoError(t, db.Close()) }()
	require.NoError(t, db.Update(func(tx *bbolt.Tx) error {
		_, err := storage.Schema(tx)
		require.ErrorIs(t, err, exam.ErrDamaged, "a file without buckets is no record")
		require.NoError(t, storage.Migrate(tx, 0))
		n, err := storage.Schema(tx)
		require.NoError(t, err)
		assert.Equal(t, storage.NewestSchema(), n)
		return nil
	}))
	require.Error(t, db.Update(func(tx *bbolt.Tx) error { return storage.Migrate(tx, 0) }), "a step is taken once")
}

func TestARecordOfANewerVersionIsLeftAlone(t *testing.T) {
	r, dir := newRecord(t)
	require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error {
		return storage.PutRow(tx, "meta", []byte("schema"), []byte("99"))
	}))
	require.NoError(t, r.Close())
	_, err := storage.Open(dir, storage.Options{})
	require.ErrorIs(t, err, exam.ErrNewer)
	assert.Contains(t, err.Error(), "nothing was changed")
}

func TestSettingsOfAnotherVersionAreRead(t *testing.T) {
	r, _ := newRecord(t)
	require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error {
		return storage.PutRow(tx, "settings", []byte("settings"), []byte(`{"person":"Ann","lamp":{"colour":"red"},"bell":true,"silent":true}`))
	}))
	s, err := r.Settings()
	require.NoError(t, err)
	assert.Equal(t, exam.Settings{Person: "Ann", Silent: true}, s)
}
