"""``python -m checks.circuit`` makes the fault table again, in ``checks/circuit/table.json``."""

import json

from checks.circuit.rank import TABLE
from checks.circuit.table import make

if __name__ == "__main__":
    text = json.dumps(make(), separators=(",", ":"), sort_keys=True)
    TABLE.write_text(text + "\n", encoding="utf-8")
    print(f"{TABLE.name}: {len(text)} characters")
