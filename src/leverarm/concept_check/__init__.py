"""What a class learned: twelve questions in two forms, before and after, and what they tell.

form("A"), right_letters("A"), slips_caught()      the questions, from data/concept_check.toml
statistics                                  gain with its ±, facility, discrimination, KR-20
simulated                                   invented classes whose gain is known
"""
