"""What sympy found, printed as JavaScript: the formulas of pages that need no Python."""

from collections.abc import Sequence

from sympy import Expr, Symbol
from sympy.printing.jscode import JavascriptCodePrinter

from .symbols import SYMBOLS, C

_LETTERS = {**SYMBOLS, "coefficient": C}


def javascript_function(name: str, *, expression: Expr, arguments: Sequence[str]) -> str:
    """Print what was derived as a JavaScript function of one line.

    Parameters
    ----------
    name : str
        What the function is called: as the library's, which repeats the formula in NumPy.
    expression : sympy expression
        What was derived, such as one of :func:`fireheat.derivation.expressions.expressions`.
    arguments : sequence of str
        Its letters, as words: keys of ``SYMBOLS``, and ``"coefficient"`` of the torque.

    Returns
    -------
    str
        The function; nothing but ``Math`` is used in it.

    Raises
    ------
    KeyError
        If there is no such letter, or one of the expression is no argument.

    Examples
    --------
    >>> from fireheat.derivation.bound import derived_power
    >>> bowing = ["coefficient", "friction", "force", "speed"]
    >>> javascript_function("watts", expression=derived_power(), arguments=bowing)
    'const watts = (coefficient, friction, force, speed) => coefficient*force*friction*speed;'
    """
    words = {_LETTERS[word]: Symbol(word, positive=True) for word in arguments}
    if left := sorted(map(str, expression.free_symbols - set(words))):
        raise KeyError(f"{expression} has {left} besides {list(arguments)}")
    body = JavascriptCodePrinter().doprint(expression.xreplace(words))
    return f"const {name} = ({', '.join(arguments)}) => {body};"
