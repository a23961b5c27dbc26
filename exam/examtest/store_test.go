package examtest_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
)

func TestStoreKeepsItsPromises(t *testing.T) {
	examtest.RunStore(t, func() exam.Store { return examtest.NewStore() })
	examtest.RunJoined(t, func() exam.Store { return examtest.NewStore() })
}

func TestAStoreOfRehearsalsKeepsThemToo(t *testing.T) {
	examtest.RunStore(t, func() exam.Store { return examtest.Simulating(examtest.NewRehearsals()) })
	examtest.RunApart(t, examtest.NewStore(), examtest.NewRehearsals())
}

func TestStoreFailsOnDemandAndWritesNothing(t *testing.T) {
	s := examtest.NewStore()
	full := errors.New("the disk is full")
	s.FailWith(full)
	_, err := s.SaveHorse(exam.Horse{Name: "Ash", Revision: 1}, "Ann", time.Unix(0, 0))
	require.ErrorIs(t, err, full)
	_, err = s.Horses()
	require.ErrorIs(t, err, full)
	s.FailWith(nil)
	list, err := s.Horses()
	require.NoError(t, err)
	require.Empty(t, list)
	require.Zero(t, s.Writes())
}
