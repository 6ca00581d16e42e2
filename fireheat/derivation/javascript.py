"""What sympy found, printed as JavaScript: the formulas of pages that need no Python."""

from collections.abc import Sequence

from sympy import Symbol
from sympy.printing.jscode import JavascriptCodePrinter

from .expressions import expressions
from .symbols import SYMBOLS, C

_LETTERS = {**SYMBOLS, "coefficient": C}


def javascript_function(name: str, *, expression: str, arguments: Sequence[str]) -> str:
    """Print a derived expression as a JavaScript function of one line.

    Parameters
    ----------
    name : str
        What the function is called: as the library's, which repeats the expression in NumPy.
    expression : str
        A key of :func:`fireheat.derivation.expressions.expressions`.
    arguments : sequence of str
        Its letters, as words: keys of ``SYMBOLS``, and ``"coefficient"`` of the torque.

    Returns
    -------
    str
        The function; nothing but ``Math`` is used in it.

    Raises
    ------
    KeyError
        If there is no such expression or letter, or a letter of it is no argument.

    Examples
    --------
    >>> javascript_function("smoke", expression="smoke", arguments=["flux", "effusivity", "rise"])
    'const smoke = (flux, effusivity, rise) => (1/4)*Math.PI*Math.pow(effusivity, 2)*Math.pow(rise, 2)/Math.pow(flux, 2);'
    """
    found = expressions()[expression]
    words = {_LETTERS[word]: Symbol(word, positive=True) for word in arguments}
    if left := found.free_symbols - set(words):
        raise KeyError(f"{expression} has {sorted(map(str, left))} besides {list(arguments)}")
    body = JavascriptCodePrinter().doprint(found.xreplace(words))
    return f"const {name} = ({', '.join(arguments)}) => {body};"
