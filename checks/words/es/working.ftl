### How a number came about, and what decided.

working-open = sin respuesta
working-or = o
working-limit = Límite
working-table = de una tabla
working-range = { $first } a { $last }
working-max = lo mayor de ({ $listed })
working-min = lo menor de ({ $listed })
working-named = { $name }: { $value }
working-less = { $left }, menos que { $right }
working-more = { $left }, más que { $right }
working-most = { $left }, no más que { $right }
working-least = { $left }, no menos que { $right }
working-decides = Lo que decide
