package codes_test

import (
	"testing"

	"newelbook/checklist/codes"
)

func TestLoad(t *testing.T) {
	if err := codes.Load(); err != nil {
		t.Fatal(err)
	}
}
