# What a maintainer runs; a user needs only Go.
.PHONY: check test bench fuzz golden

check: ## what CI runs
	bash .ci/run

test:
	go test ./...

bench: ## figures for docs/performance.md
	go test -run '^$$' -bench . -benchmem ./...

golden: ## write the golden files anew; read the diff
	go test ./internal/figure ./internal/crop ./internal/season ./internal/reckoning ./internal/app -update

fuzz: ## a minute of each fuzzer, the first failure ends it
	@grep -rHo --include='*_test.go' '^func Fuzz[A-Za-z]*' internal | sed 's/:func / /' | while read -r file name; do \
		echo "$$file $$name"; \
		go test -run '^$$' -fuzz "^$$name$$" -fuzztime $(or $(FUZZTIME),1m) "./$$(dirname "$$file")" || exit 1; \
	done
