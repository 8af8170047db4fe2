### How a number came about, and what decided.

working-open = not answered
working-or = or
working-limit = Limit
working-table = from a table
working-range = { $first } to { $last }
working-max = the largest of ({ $listed })
working-min = the smallest of ({ $listed })
working-named = { $name }: { $value }
working-less = { $left }, less than { $right }
working-more = { $left }, more than { $right }
working-most = { $left }, no more than { $right }
working-least = { $left }, no less than { $right }
working-decides = What decides
