package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// linked returns the folders of the linked modules on all platforms, by module and version, and that of Go itself.
func linked(t *testing.T) map[string]string {
	t.Helper()
	dirs := map[string]string{}
	for _, system := range []string{"linux", "darwin", "freebsd", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", `{{with .Module}}{{if not .Main}}{{with .Replace}}{{.Path}} {{.Version}} {{.Dir}}{{else}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}{{end}}`, ".")
		list.Env = append(os.Environ(), "GOOS="+system, "GOFLAGS=-mod=mod", "CGO_ENABLED=0")
		out, err := list.Output()
		if err != nil && system != "linux" {
			t.Skipf("the modules of %s are not all here", system)
		}
		require.NoError(t, err)
		for _, line := range strings.Split(string(out), "\n") {
			if f := strings.Fields(line); len(f) == 3 {
				dirs[f[0]+" "+f[1]] = f[2]
			}
		}
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	dirs["std go"] = strings.TrimSpace(string(root))
	return dirs
}

// nameOf returns the SPDX name of a licence, by words that only it has.
func nameOf(text string) string {
	var names []string
	for _, one := range [][2]string{
		{"Permission is hereby granted, free of charge", "MIT"}, {"License: MIT", "MIT"}, {"Apache License", "Apache-2.0"}, {"to endorse or promote products", "BSD-3-Clause"},
	} {
		if strings.Contains(strings.Join(strings.Fields(text), " "), one[0]) {
			names = append(names, one[1])
		}
	}
	return strings.Join(names, "-AND-")
}

// TestLicencesMatchLinkedModules: each licence is complete, as it demands.
func TestLicencesMatchLinkedModules(t *testing.T) {
	dirs := linked(t)
	var b bytes.Buffer
	b.WriteString("What is linked into jugkeeper, each with its licence. Each licence is printed whole below its name.\n")
	for _, module := range slices.Sorted(maps.Keys(dirs)) {
		var text string
		for _, pattern := range []string{"LICENSE*", "LICENCE*", "NOTICE*"} {
			files, err := filepath.Glob(filepath.Join(dirs[module], pattern))
			require.NoError(t, err)
			for _, file := range files {
				data, err := os.ReadFile(file)
				require.NoError(t, err)
				text += strings.TrimSpace(strings.ReplaceAll(string(data), "\r\n", "\n")) + "\n"
			}
		}
		if text == "" { // one module has it only in its README
			data, err := os.ReadFile(filepath.Join(dirs[module], "README.md"))
			require.NoError(t, err)
			_, text, _ = strings.Cut(string(data), "\n## License\n")
			text = "License:\n" + strings.TrimSpace(text) + "\n"
		}
		name := nameOf(text)
		require.NotEmpty(t, name, "%s has a licence that is known", module)
		fmt.Fprintf(&b, "\n== %s %s\n\n%s", module, name, text)
	}
	if *update {
		require.NoError(t, os.WriteFile("licences.txt", b.Bytes(), 0o666))
		return
	}
	assert.Equal(t, b.String(), licences, "go test ./cmd/jugkeeper -run Licences -update")
}

func TestLicencesAreShown(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, ok, run([]string{"version", "--licences"}, around(t.TempDir(), &out, &errs)))
	assert.Equal(t, licences, out.String())
	all := licencesOf(licences)
	assert.Greater(t, len(all), 15)
	for _, l := range all {
		assert.Contains(t, []string{"MIT", "BSD-3-Clause", "Apache-2.0", "MIT-AND-Apache-2.0"}, l.Licence, l.Module)
	}
}
