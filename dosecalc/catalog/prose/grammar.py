"""The grammar of a written recipe, over the words that ``lex`` finds. LALR: linear in the text."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from lark import Lark, Token, Tree, UnexpectedInput

from dosecalc.catalog.prose.sizes import Word
from dosecalc.errors import refuse

GRAMMAR = """
start: group (SEP group)*
group: (_join | piece)*
_join: AND | COMMA | COLON

?piece: dose | link | EVERY | MOST | NOTE | ASIDE | COPPERLIME
      | NOTE COLON                                  -> title
      | FROM MAT                                    -> source
      | LALT AMT (PER | IN | OVER | UPTO) place RPAR -> alt

?dose: amount MAT                                   -> dose
     | material amount                              -> dose
     | amount STRAY                                 -> unknown
     | amount nutrient FROM? MAT                    -> nutrient
     | material amount nutrient                     -> nutrient
     | amount nutrient                              -> nutrient
     | amount WATER                                 -> water
     | WATER (COLON | AT)? amount                   -> water
     | amount                                       -> lone
     | material                                     -> bare
     | WATER                                        -> bare_water
     | strength nutrient? FROM? MAT                 -> strength
     | material strength nutrient?                  -> strength
     | strength nutrient?                           -> strength
     | PARTS MAT? (OVER | AND | COMMA)* PARTS WATER -> parts

strength: PCT | PPM | RATIO
material: MAT (COLON | AT)?
amount: AMT (DEEP | LAYER)?
nutrient: SURELY? NUTR SURELY?

link: (PER | IN | OVER | UPTO | AT) place
    | (OVER | IN | AT) (STRAY | NOTE)               -> purpose
    | (OVER | IN) _noun+                            -> on
place: amount _noun*
_noun: WATER | ROW | GROUND | VESSEL | MEDIUM | POT

%declare AND COMMA COLON SEP EVERY MOST NOTE ASIDE COPPERLIME LALT RPAR MAT STRAY FROM WATER AT
%declare PARTS OVER PCT PPM RATIO AMT DEEP LAYER SURELY NUTR PER IN UPTO ROW GROUND VESSEL
%declare MEDIUM POT
"""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the text: what it is and its words, in order.

    Parameters
    ----------
    kind : str
        "dose", "nutrient", "water", "link", "alt", ...
    parts : tuple of Word
    """

    kind: str
    parts: tuple[Word, ...]

    def first(self, *types: str) -> Word | None:
        """The first word of one of these types."""
        return next((word for word in self.parts if word.type in types), None)


@cache
def _parser() -> Lark:
    return Lark(GRAMMAR, parser="lalr", lexer="basic")


def parse(found: list[Word]) -> list[list[Piece]]:
    """The pieces of each sentence.

    Raises
    ------
    DoseError
        Where the words do not make a recipe, with the place.
    """
    run = _parser().parse_interactive("")
    try:
        for index, word in enumerate(found):
            run.feed_token(Token(word.type, str(index)))
        tree: Tree[Token] = run.feed_token(Token("$END", ""))
    except UnexpectedInput as err:
        raise _not_understood(found, err) from None
    return [
        [_piece(child, found) for child in group.children if not _joins(child)]
        for group in _groups(tree)
    ]


def _joins(child: Tree[Token] | Token) -> bool:
    return isinstance(child, Token) and child.type in ("AND", "COMMA", "COLON")


def _groups(tree: Tree[Token]) -> list[Tree[Token]]:
    return [child for child in tree.children if isinstance(child, Tree)]


def _piece(child: Tree[Token] | Token, found: list[Word]) -> Piece:
    if isinstance(child, Token):
        word = found[int(child)]
        return Piece(word.type.lower(), (word,))
    leaves = child.scan_values(lambda value: isinstance(value, Token))
    return Piece(str(child.data), tuple(found[int(leaf)] for leaf in leaves))


def _not_understood(found: list[Word], err: UnexpectedInput) -> Exception:
    token = getattr(err, "token", None)
    at = len(found) if token is None or not str(token).isdigit() else int(token)
    word = found[at] if at < len(found) else None
    near = " ".join(w.text for w in found[max(0, at - 2) : at + 2]).replace("\n", " ")
    if word is not None and word.type == "OR":
        return refuse("prose-or", text=near)
    if word is not None and word.type == "THEN":
        return refuse("prose-two", text=near)
    return refuse("prose-grammar", text=near)
