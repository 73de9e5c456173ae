package journal

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

func closing(names ...string) ferment.Change { return ferment.Change{Closes: names} }

func TestClosingALinkMovesOnlyTheLink(t *testing.T) {
	for what, target := range map[string]string{"a relative link": "../elsewhere/heath.yaml", "an absolute one": ""} {
		t.Run(what, func(t *testing.T) {
			dir := cellarWith(t, map[string]string{"elsewhere/heath.yaml": heath, "ferments/lime.yaml": "format: 1\n"})
			if target == "" {
				target = filepath.Join(dir, "elsewhere", "heath.yaml")
			}
			link := filepath.Join(dir, "ferments", "heath.yaml")
			require.NoError(t, os.Symlink(target, link))
			s := Open(dir, time.UTC, nil)
			receipts, err := s.Apply(closing("heath"))
			require.NoError(t, err)
			_, err = os.Lstat(link)
			assert.ErrorIs(t, err, os.ErrNotExist)
			info, err := os.Lstat(filepath.Join(dir, "ferments/past/heath.yaml"))
			require.NoError(t, err)
			assert.NotZero(t, info.Mode()&os.ModeSymlink, "it is a link still")
			assert.Equal(t, heath, readFile(t, dir, "ferments/past/heath.yaml"), "and leads where it led")
			assert.Equal(t, heath, readFile(t, dir, "elsewhere/heath.yaml"))

			require.NoError(t, s.Undo(receipts[0]))
			is, err := os.Readlink(link)
			require.NoError(t, err)
			assert.Equal(t, target, is)
		})
	}
}

// TestClosingRefusesALinkThatWouldBreak: the folder of closed ferments is itself a link, so that a relative link would
// lead to another file from there.
func TestClosingRefusesALinkThatWouldBreak(t *testing.T) {
	dir := cellarWith(t, map[string]string{"elsewhere/heath.yaml": heath, "ferments/lime.yaml": "format: 1\n", "attic/deep/past/ivy.yaml": heath})
	require.NoError(t, os.Symlink("../attic/deep/past", filepath.Join(dir, "ferments", "past")))
	require.NoError(t, os.Symlink("../elsewhere/heath.yaml", filepath.Join(dir, "ferments", "heath.yaml")))
	before := tree(t, dir)
	_, err := Open(dir, time.UTC, nil).Apply(closing("heath"))
	assert.ErrorContains(t, err, "the link would lead elsewhere from there")
	assert.Equal(t, before, tree(t, dir))
}

func TestClosedFermentGoesBackOnlyToAFreePlace(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	receipts, err := s.Apply(closing("heath"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/Heath.yaml"), []byte("format: 1\n"), 0o666))
	assert.EqualError(t, s.Undo(receipts[0]), "ferments/past/heath.yaml: ferments/Heath.yaml is there already, so it is left there (rename one of the two)")
	assert.Equal(t, heath, readFile(t, dir, "ferments/past/heath.yaml"))
}

func TestLoadReadsNoClosedFerment(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/lime.yaml": "from: {ferment: heath, at: 2027-01-01}\n", "ferments/past/heath.yaml": "from: {ferment: ling, at: 2027-01-01}\n",
		"ferments/past/ling.yaml": heath, "ferments/past/ivy.yaml": "nam: broken\n"})
	s := Open(dir, time.UTC, nil)
	c, err := s.Load(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, c.Problems, "nothing of the broken one is known")
	assert.NotContains(t, s.memory, "ferments/past/ivy.yaml")
	var parents []string
	for _, f := range c.Parents {
		parents = append(parents, f.ID)
	}
	assert.Equal(t, []string{"heath", "ling"}, parents, "the parent, and its parent")
	assert.Equal(t, ferment.Pitch, ferment.Parted(c.Ferments, c.Parents...)[0].Log[0].Did)
	assert.False(t, s.Changed())

	past, problems, err := s.Past(time.Time{})
	require.NoError(t, err)
	assert.Len(t, past, 2)
	assert.Len(t, problems, 1)
}

func TestClosedFermentWithoutOpenChildIsNotRead(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/lime.yaml": "from: {ferment: ../../heath}\n", "heath.yaml": heath, "ferments/past/ivy.yaml": heath})
	s := Open(dir, time.UTC, nil)
	c, err := s.Load(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, c.Parents)
	assert.NotContains(t, s.memory, "ferments/past/ivy.yaml")
}

func TestCheckReportsAMissingParent(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/lime.yaml": "from: {ferment: gone}\n", "ferments/ivy.yaml": "from: {ferment: Heath}\n", "ferments/past/heath.yaml": heath})
	c, err := Open(dir, time.UTC, nil).Check(time.Time{})
	require.NoError(t, err)
	assert.Empty(t, c.Problems)
	require.Len(t, c.Remarks, 2)
	assert.Equal(t, `ferments/ivy.yaml:1:7: from: ferment "Heath" is written otherwise (ferment: heath)`, c.Remarks[0].String())
	assert.Contains(t, c.Remarks[1].String(), `from: ferment "gone" is neither open nor closed`)
}

// TestTwoProgramsCloseOnce: two programs close and reopen the same ferments; the second one gets an error.
func TestTwoProgramsCloseOnce(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	one, two := runner(t, closerVariable, dir+"|400"), runner(t, closerVariable, dir+"|400")
	require.NoError(t, one.Wait())
	require.NoError(t, two.Wait())
	requireOnePlace(t, dir)
}

// TestKilledWhileClosingLeavesOneFile: a rename is atomic.
func TestKilledWhileClosingLeavesOneFile(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	for i := range 16 {
		cmd := runner(t, closerVariable, dir+"|100000")
		time.Sleep(time.Duration(60+7*i) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait()
		requireOnePlace(t, dir)
	}
}

func requireOnePlace(t *testing.T, dir string) {
	t.Helper()
	var places []string
	for file, text := range tree(t, dir) {
		if strings.HasPrefix(filepath.Base(file), tempPrefix) {
			continue
		}
		assert.Equal(t, heath, text, file)
		places = append(places, file)
	}
	assert.Len(t, places, 1)
}

// closeAndOpen closes a ferment and undoes it, many times.
func closeAndOpen(dir, count string) {
	s := Open(dir, time.UTC, nil)
	times, _ := strconv.Atoi(count)
	for range times {
		receipts, err := s.Apply(closing("heath"))
		if err != nil {
			continue // the other program has closed it
		}
		if err := s.Undo(receipts[0]); err != nil {
			panic(err)
		}
	}
}
