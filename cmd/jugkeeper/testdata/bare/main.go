// Command bare decodes the files that it is given and nothing else: what the
// program is measured against.
package main

import (
	"fmt"
	"os"

	"gopkg.in/yaml.v3"
)

func main() {
	for _, file := range os.Args[1:] {
		data, err := os.ReadFile(file)
		var value any
		if err == nil {
			err = yaml.Unmarshal(data, &value)
		}
		if err != nil || value == nil {
			fmt.Println(file, err)
			os.Exit(1)
		}
	}
}
