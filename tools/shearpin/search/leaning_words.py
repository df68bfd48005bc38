"""How far words and traits of a query push each kind: written by `python -m _evaluation.leanings`, not by hand."""

from __future__ import annotations

from typing import Final

LEANINGS_TEXT: Final = """
#=mlkmmmpmommlm @=kmollknmqmllm @$=kmpmlmnmnmmlm ^@=mmlmmlnmommmm ^are=mmmolmmmlmmmm
^blower=llmmmommnmmmm ^can=klomnmmmmmnlm ^chute=plmmlmmmlmmmm ^clean=mkmmmmmmmommm ^cord=mmmmommmlmmmm
^does=mjmpmmmmmmmmm ^engine=mlkmomqmlmmlm ^get=kommmmmmmmmmm ^how=klqllmmqlllmm ^i=nmmmnmmmmmmkm
^is=llmolmmmmmomm ^it=ommmmmmmlmmmm ^look=mmlolmmmmmmmm ^measure=mmkommmmmmmmm ^need=llmmlmmmpmmmm
^no=llmonmmmmmmmm ^oil=ommlllmmmmmmm ^plug=nmomlmmmlmmlm ^revs=lmolnmmmmmmmm ^rubber=mmmmmmmmommmm
^snow=olmmmmmmmmmmm ^spark=mlommmmmmlmmm ^spout=llmmmmmmpmmmm ^spring=mjmmlmmmqmmmm ^starter=ommmmmmmmmlmm
^the=mllllqmmmmmmm ^what=lknmlmmmmnmnm ^whats=mmlmmmmmmmmom ^wheel=momllmmmmmmmm ^where=lomommmmmlmkm
^which=mmlmlnmmlmlom ^why=mmmlmmmmlmmpm ^worn=mllmommmmmmmm a=lqkonommjklmm after=lkmmommmmmomm
air=mmonlmmmmllmm air_in=mmomlmmmmllmm an=knmnmmmmmmlom and=kllommomlmlom and_down=jmmommmmmmmom
and_the=mkmmmmnmnmmmm auger$=mnmlkmmmnmmom auger_cable=mmmmlmmmommmm augers=ommmmmmmmmmmm barely=olmmmmmmmmmmm
bearing=mllonmmmlmmmm before=lnommmmmmmmmm belt=mkmmlmmmommmo belts=nmmlmmmmkmmom big=mlomlomlkmmmm
blades=llmmmmmnmmomm blower=llkllpnmommmm blue=ommmlmmmmmmmm bolts=llmommmmnmmmm broke=knmmmmmmmmnmm
by=nklmmommkmlpm cable=llnmlmmmommmm can=jkpmmmmmmmplm carb=nkmlmmmmommmm case=nlomlmmmnmmmm
change=molmmmmmlmmmm choke=kpmmkommmmmmm chute=mnmnlmmnknmln chute$=inmmmmmmnnmln clean=llmlnmmmmommm
coil=mmlommmmlmmmm coil$=mnkommmmmmmmm cold=onnlkmmmmmmmm cold$=onmmkmmmmmmmm compression=lmnommmmmmmlm
cord=ohmmommmnmmmm cord$=qimmmmmmmmmmm cover=nmmmkmmmnmmmm dipstick=kmmonmmmmmmmm do=lriklmmojmlqm
do_i=mnllnmmmlnlpm do_the=mmmllmmpmmmlm does=mjnommmnmmmmm does_the=mjnommmnmmmmm doing=mrlmlmmmkmmmm
down=klmnlmmmnnmnm drive=ommllmmmlmmmo drive$=mmmmlmmmmmmmo end=ommmlmmmmmmmm engine=jmmknnqlmmmmm
engine$=mnmmmmmmmmmkm fan=klnmnmmmmmnmm fan$=mmnlommllmmmm find=mmlmmmmmmmmom first=lommmmmmmmmmm
fit=mommmmmmlmmmm flap=knmmmmmmnmmmm float=mmmlnmmolmmlm flywheel=mnmnkmmmllmpm flywheel$=mnmmlmmmllmpm
for=jlmnllmmpolmo for_the=klolllmmomlno free=lioolmmmmmmom from=nmmolmmmmmnkm from_the=olmllmmmmmnmm
full=mlmlommmmmmmm gas=mllommmmnmlmm gas$=lmlmkmmmmmlqm gasket$=mmmmnmmmkmmmm gauge=mmlmmmmmmomlm
gear=olnllmmlnmmmm gear_case=nlomlmmmmmmmm gear_oil=momlmmmmmmmmm gearbox=nllnkmmmpmmmm get=kpnmkmmnmmmmm
going=mnmmkmmmlmmnm handle=llmnjmmmmomnm has=mlmmmmmmlmmom head=mmnmommmkmmmm head_gasket=mnmmommmkmmlm
how=klpkkmmskllmp how_do=miklommpmmmpm how_does=mmmlmmmommmmm how_to=mpjmmmmmllmlp i=nnllmmmmkmonm
i_put=momllmmmlmnmm if=mlmkommmmnnmm impeller=mmmolmmmmmmmm in=ljnlnonlllplm in_the=llllpnmmlmolm
is=olkomnmlknokm is_it=lmmonmmmmmnkm it=knnnjmmmknmmp it$=mmlklmmmnolnp itself=nmmmmkmmommmm
keeps=mkmmnmmmmmmmm key=okmmnmmmlmmlm leak=nmmnmmmmmmmkm leaking=mmmommmmmmmkm lever=mkmmmmmmlmmpm
lever$=mlnmlmmmkmmpm lights=mmmmmmmmkmmmp like=lmmmmmmmmmmom look=mmlplmmmmmmmm magneto=mlmmnmmlkmmpl
meaning=mlkmmmmmmmmpm measure=mmlommmmmmmmm meter=mlmolmmmmnmmm motor=nkmmlmmmpmmmm much_oil=lklnommmmmmmm
my=llmmmmmmmmomm need=llmmlmmmpmmmm new=lqmllmmmmmmmm no=lllnommmmmmmm now=npmmkmmmmmmlm
of=ljokkmmlpllns of_the=llmmlmmmommmp off=nmklokmmomlnm off$=mkmlommmmmmnm off_the=nmlmmkmmommmm
oil=olmlolmlnmmkm oil$=nplmlmmmlmmlm oil_in=mommlmmmmmmmm old=knmmkmmmmmlsm on=kkoliqmmkmmsm
on_the=mknlnmmmmmnnm one=jlmloqmllmmmm one$=mmmmommmmmmmm or=mknnmmmmmmmmm out=mlpljmmmmplmm
out$=lmommmmmmmmmm out_of=mmmlmmmmommmm over=komnlmmmnllnm paddle=kmmmmmmmommmm paddles=kqmmklmmnmmmm
part=mmlmlmmmommlm petrol=klmnnmmmnmmmm petrol$=kmmonmmmmmmmm pin=mklkqmmmnnmmm pin$=mlmlommmlnmmm
pins=mllmommmnmlmm plate=mommlmmmlmmmm play=mkomkmmmmmmom play$=mlmmmmmmmmmom plug=moommnmllmlkm
plug$=lplmommmjnmlm power=mmmmmommlmmmm pull=njnnmmmmplmmm pull_cord=phmmnmmmnmmmm pulled=pmmmkmmmlmmmm
pulley=mjnmmmmmommmm pulling=mmmlommmlmmmm put=mklmnmmmmolmm reverse=jrmmmmmmlmmmm revs=lmqlmmmmmmlmm
right=onmlmmmmmmmmm rope=llnmlmmmommmm rope$=llnmlmmmommmm round=nlmolmmmlmomm round$=mlmnlmmmlmomm
rubber=mlmmlmmnommlm run=mnommmmmmlmlm shear=lmkomlmmomlmm shear_pin=mmlmommmmmmmm should=mlonmmmmmmmlm
side=mmlmmmmmommmm smell=lmmommmmmmmmm snapped=lmmmommmmmmmm snow=mnllnnmnknlmm so=lpmmmmmmlmmmm
solid=ommmlmmmmmlmm soon=lmommmmmmmmmm sound=olmmlmmmmmmmm spark=llnknmmmomnmm spark_plug=mlnmmmmmokmmm
spring=lknmmmmmomnmm stage$=mmmmmmmlommnm start=komllnmlmmpmm stays=olmmlmmmmmmmm steering=nknmjommlmmom
stick=klmmnmmmmolmm stick$=mkmmnmmmmommm still=olmmkmmmlmomm stop=knolmmmmmmmmm stopped=llmmmmmmmmomm
swing=nlmolmmmmmmlm switch=lommmmmmlmmmm that=limlkmmmtommm the=hninkrnnlomjq the_@=mmlmmmmmommmm
the_belt=mkmmmmmmmmmmo the_carb=mkmmmmmmonmmm the_chute=jnmnmmmnlnmln the_drive=mlmmmmmmommmm the_engine=kkpmmmmmnmmom
the_fan=mlnnommllmlmm the_gas=mmmlommmlmmmm the_gear=mlomlmmmnmmmm the_impeller=mlmolmmmmmmmm the_light=molnmmmmlmmmm
the_petrol=lmmommmmnmmmm the_plug=lkmmnnmmmommm the_pull=kmmlnmmmommmm the_recoil=mommmmmmlmmmm the_tiller=mmmkmmnnmmmmm
there$=mmmommmmlmmmm thing=lmmmmmmmkmmpm tighten=lomlmmmmlmmmm tiller=mmmklonnlmmmm time=nmlmommmkmlmm
tip=mlmmlmmmmmlmp tip_it=mlmmlmmmmmlmp to=nnkkjmmmnrmkp to_turn=ommmmmmmlmmmm too=mllmrmmmkmmmm
top=lmmmmmmmommmm top_of=kmmmmmmmommmm tracks=loimmqmmlmmmm turn_the=kmmmmmmmmmomm turning=mmlmommmmmmmm
under=mmmmmmmmmolmm up=lonmmmmmlmmnm up_and=jmmommmmmmmom up_the=lpmmlmmmmmmmm valves=mpllkmmnmmmmm
valves$=mqllkmmmmmmmm weeping=plmmlmmmmmmmm what=lnnnjmmmnommm what_is=mmlmmmmmmmmom whats=mmlmmmmmmmmom
wheel=lolklkmnpmmlm when=mmmolmmmmmmlm where=lomplmmmmlmkm which=lmlnlnmmlmlom while=kmmmmmmmmmomm
why=lmmlnmmmlmmpm winter=lommmmmmmmmmm winter$=lommmmmmmmmmm with=nkjmlqpnlmnlm without=kmmmmommmmmmm
wont=olmmlmmmmmmmm work=ljmmmmmommmom work$=ljmmmmmommmom working=lommmmmmmmmmm worn=mkmmpmmmlmmmm
wrong=mkmmpmmmmmmmm you=lllolmmmnnmmm ~2=kolkkmmmonmqm ~3=qkmlnomlmnmjl ~4=jgkijtqlmpjpr
~6=kjmllonokpmmo ~9=nknnlmmmklnnm ~complaint=jminlxqijmllp ~do=nekkmmmolrkrp ~do-value=mkqlmmmmmlmmm
~few=lllmoonlmlmol ~ing=lnlljmmmklmor ~not=oklnmmmmnmlmm ~part=klmlnmmmlmlsm ~question=hmpmjnmqkmkqm
~test=mnmjnmmmmnolm ~the=mllllqmmmmmmm ~theory=mmlnlmmommmmm ~value=nlomkmnllomlm ~where=kjjkjmmkronro
~whether=jmlulmmmjlpkm ~who=lmmnlmmljnmmp
"""
