# What a maintainer runs; a user needs only Go.
.PHONY: check test bench fuzz golden

check: ## what CI runs
	bash .ci/run

test:
	go test ./...

bench: ## figures for docs/performance.md
	go test -run '^$$' -bench . -benchmem ./...

golden: ## write the golden files anew; read the diff
	go test ./internal/figure ./internal/cropping ./internal/crop ./internal/cli -update

fuzz: ## a minute of each fuzzer
	go test -run '^$$' -fuzz FuzzRead -fuzztime 1m ./internal/readings
