package views_test

import (
	"testing"

	"newelbook/views"
)

func TestLoad(t *testing.T) {
	if err := views.Load(); err != nil {
		t.Fatal(err)
	}
}
