"""How far words and traits of a query push each kind: written by `python -m _evaluation.leanings`, not by hand."""

from __future__ import annotations

from typing import Final

LEANINGS_TEXT: Final = """
#=mlkmmmpmommlm @=kmnmllnmpmmkm @$=kmpmlmnmnmmkm ^@=mmlmmlnmommmm ^are=mmmommmmlmmmm
^can=jlonnmmmmmolm ^chute=plmmlmmmlmmmm ^clean=mkmmmmmmmommm ^cord=lmmmpmmmlmmmm ^does=mkmpmmmmmmmmm
^engine=mkkmomqmlmmlm ^get=kommmmmmmmmmm ^how=klqkmmmqllllm ^i=pmmmmmmmmmmkm ^is=llmmlmmmmlpmm
^look=mlmplmmmmmmmm ^make=mpmllmmmlmmmm ^need=llmmmmmmpmmmm ^no=mlmmommmlmmmm ^oil=plmlklmmnmmmm
^put=mlmommmmmlmmm ^revs=kmomnmmmmmmmm ^rubber=mlmmmmmmommmm ^spark=mlolmmmmnlmmm ^spout=kmmmmmmmpmmmm
^spring=ljmmmmmmrmmmm ^starter=ommlmmmmmmmmm ^the=lllmlrmmnmmmm ^what=lkmmlmmnmnnom ^whats=mmlmmmmmmmmom
^where=lomommmnmlmkm ^which=mnlmlommlmlnm ^why=mmmllmmmmmmom a=lpkqnommillmm after=ljmmommmmmomm
air=mmoolmmmmllmm air_in=mmomlmmmmmlmm all=momnlmmmlmlmm an=knmnmmmmmllom and=lmlpjmommllom
and_down=kmmnmmmmmmmom auger=lnnlkmmnnnlnm auger$=momljmmmnnmnm augers=ommmlmmmmmlmm axle=mmmmlmmmommmm
belt=nklmmmmlommmn belt$=knmmnmmmnmmmm belts=nnmmlmmmkmmom between=mlnllmmmommnm big=mlnmlommlmmmm
blades=llmmmmmmmmomm blower=mmllmonmmmmmm blower$=mllmmommnmmmm bolt=llnmkmmmnnmmm bolts=llmommmmnmmmm
bowl=nnmkmmmmmmmmm box=nmmlmmmolmmmm brake=lpmmlmmmlmmnm but_no=lmmmommmmmmmm by=lmlmmnmmkmlpm
can=jkomnmmmmmqlm carb=mkmlmmmmpmmmm case=mlollmmlnmmmm change=molmmmmmlmmmm choke=kommkommmmmmm
chute=nnmmmmmokmlko chute$=jommmmmmnmmlo clean=mmmlmmmmmommm coil$=mmlommmmlmmmm cord=phmmommlnmmmm
cord$=qimmmmmmnmmmm deep=mnmknmmmmmmmm do=lrjknmmoimmpm do_i=lnllnmmmlmmom do_the=mlmllmmpmmmlm
does=ljnommmommmmm does_the=ljoommmommmlm dont=mlmmlmmmommmm down=kmmmlmmmnnmnm drive=nomllmmmlmmmn
drop=lomkmmmmmmmmm engine=klmlmoqlmmmml engine$=nnmmmmmmmmmkm fan=klnlnmmmnmnmm fan$=mmmlommmkmmmm
filter$=mmmmommmkmmmm find=mmlmmmmmmlmom fire=mkmmmmmmmmmom flap=llmmmmmmommmm float=mlmlmmmqmmmkm
for=jkmnmlmloplmp for_the=llolllmlnmlnp free=lioolmmmmmmom from=nlmnnmmmnmmkm from_the=nkmlmmmmnmnmm
gap=mmmllmmmmomlm gap$=mmlmmmmmmommm gas=mmlolmmmmmmmm gas$=lmmmjmmmmmmqm gasket=mllmmmmmmpmmm
gauge=mmjmmmmmmpmmm gear=omoklmmlmmmmm gear_case=nlollmmlmmmmm gear_oil=lomlmmmmmmmmm gearbox=mlmnkmmmommmm
gears=lkmmmmmommmmm get=jpmmmmmmmmmmm goes=nlommmmmmmmmm goes_in=mlommmmmmmmmm going=kpmmlmmmlmmnm
good=mllpmmmmmmmmm grips=mmlmommmlmmmm head=mmnmnmmmkmmnm how=kkoilmmullllp how_do=mjkmnmmommmpm
how_does=mmmmmmmommmlm how_to=mpjmmmmmllmlp i=nnllmmmllmomm impeller=lmnpkmmmlmmmm in=minlmpnmllplm
in_the=lkmkpomnlmnlm inside=mmmlmmmmommmm inside_the=mkmmmmmmommmm is=nlkolommjnpkm is_it=kmmonmmmmmmkm
is_the=mknklmmmmmomm it=lomnkkmlknmmp it$=onkllkmmmoknp itself=nmmmmkmmnmmmm key=njmmommmmmmmm
lamp=nmmplmmmkmmmm lamp$=mmmplmmmkmmmm leak=nmmnmmmmmmmkm leaking=mmmommmmmmmkm left=kmnmnmmmnmmmm
lever=mlmmmmmllmmpm lever$=mlnmlmmmkmmpm light=nnmmlmmnkmmmm look=mlmplmmmmmmmm machine=ommmmnmmlmmmm
magneto=mmmmommlmmmml make=lolnmmmmlmmmm makes=mlmknmmommmmm me=lmmmmmmmmmomm motor=nlmmmmmmommmm
much_oil=lkmnommmmmmmm my=mmmmmmmmmmomm need=llmmmmmmpmmmm new=kqmmlmmmmmmmm no=lllmpmmnmmmmm
now=mpmmlmmmmmmlm of=kjoljmmlpmknr of_the=klmokmmmpmmlo off=nmllnkmmomlmm off_the=mmmmmkmmommmm
oil=ommlnlmlmnmkm oil$=oolmlmmmlnnlm old=kmmmkmmmmlmrm on=ikonjomlomnql on_the=mknlommmmmmol
one=mlmlnqmmlmlmm one$=mmmlommmmmmmm or=mknnmmmmlmmmm out=lkpmkmmmnpllm out$=kmonlmmmnmlmm
over=nnmlkmmmomlnm paddle=lmmmmlmmommmm paddles=kqlmmlmmnmmmm part=nmlmmmmmommlm pin=mjmlpmmmnnmmm
pin$=mlmlommmlnmmm pins=nllmommmnmmmm plate=mommlmmmlmmnl play=mkomkmmmmmmom play$=mlmlmmmmmmmom
plug=lnnnlnmlmmlkm plug$=lolmommmjnmmm plug_gap=mmlmmmmmmommm power=mmmmlommmmmmm puddle=lmmmommmmmmmm
pull=ojmllmmmolnmm pull_cord=pimmmmmmnmmmm pull_start=mnmllmmmmmomm pulley$=mlomlmmmnmmmm pulling=mmmlommmlmmmm
put=mjmnnmmmnokmm put_a=mlmommmmmlmmm recoil=molmlmmmnmmlm recoil_spring=mommmmmmlmmlm reverse=irmmmmmmlmmmm
revs=kmqmmmmmmmmlm ring$=mmomlmmmlmmmm rope=lmmnlmmmommmm round=olmnmmmmklnmm round$=nlmmmmmmlmomm
round_the=mmmommmmmlmmm rpm=mllnmmmmlpmmm rubber=mlnmlmmmommlm seal=nmmmkmmmnmmmm see=mklommmmmnmmm
shaft=mkmommmmmmmmm shaft$=llmommmmnmmmm shear=mlknnmmmnmmmm shear_pin=mlmmommmmmmmm side=kllmmmmmpmmmm
side$=mllmommmlmmmm single=lmmmmomlmmmmm single_stage=lmmmmomlmmmmm snow=mollnnmmlmlnm so=mommlmmmmmmmm
so_it=mlmmmmmmommmm solid=ommmlmmmmmmmm spark=llnkommmomnmm spark$=mmmlmmmmmommm spark_plug=mlnmmmmmokmmm
spin=lmmommmmmmmmm spout=mlmmmmmmpmmmm spring=lllkmmmmpmplm spring$=mommmmmmlmmlm start=knnklomllmqmm
starter=nllmommmlmmmm starter$=lmmmmmmmommmm stays=ommmlmmmmmmmm steering=mlnljommlmmom stick=llmmnmmmmolmm
still=lmmmmmmmmmpmm stop=lnommmmmmmmmm stopped=llmmmmmmmmomm stuck=ommlmmmmlmmmm swing=okmolmmmmmmlm
switch=lommmmmmmmmmm that=killkmmmupmmm the=hnjplqnolnkjp the_@=mmlmmmmmommmm the_belt=njmmmmmmommmn
the_carb=njmlmmmmpnmmm the_chute=knmmnmmolmmlo the_drive=mmmmmmmmommmm the_engine=kkpllmmmommol the_friction=mmomlmmmlmmmm
the_gas=lmmlommmlmmmm the_gear=mlomlmmlmmmmm the_impeller=llmqlmmmmmmmm the_lamp=mmmplmmmkmmmm the_lever=llmmmmmmommmm
the_plug=lklnommmlomlm the_pull=lnmllmmmnmomm the_recoil=mommmmmmlmmlm the_starter=kmmmnmmmmmnmm there=nmmmmmmmlommm
there$=mmmommmmlmmmm tiller=mmmklonmmmlmm time=nnmmommmjmlmm tip=mlnmlmmmmllmp tip_it=mlmmlmmmmmlmp
to=nnljjmmlnrklp to_turn=ommmmmmmlnmlm too=llllsmmmjmnmm top=lmmmmmmmpmmmm top_of=kmmmmmmmommmm
tracks=lojmmommmmmmm turn=mlmllmmolnolm turn$=lmmlmmmommmmm turn_the=kmmmmmmmmnomm turning=olmmmmmmmmmmm
two=olmmlmmmmlmnm under=nmmmmmmmlpjmm up=jmmmlmmmmmnpm up$=mknmmmmmmmmom up_and=kmmnmmmmmmmom
up_the=mommmmmmmmmlm valves=lqllkmmmnmmmm valves$=lqllkmmmnmmmm weeping=olmmmmmmmmmmm what=knmmjmmnmonnm
what_is=mmmmmmmlmmmom whats=mmlmmmmmmmmom wheel=molmmkmmnmmmm when=lnmmkmmnommmm where=mnmommmnmllkm
which=mnlmlommlmlnm while=kmmmmmmmmmpmm why=lmmlnmmmmmmom wire=lommlmmmmmmmm with=pkinloppllnkl
without=kmmmmommmmmmm work=mjmmlmmpmmmom work$=mjmmlmmpmmmom working=lommmmmmmmmmm worn=mlmmommmmmmmm
yard=qmmmmkmmmmlmm you=lmlmkmmloonnm ~2=kolklmmmnmmqm ~3=qkmknnmmmnmjl ~4=igkjhtpnnqipr
~6=ljmlknnnlpoln ~9=mjonlmmnllnnm ~cause=mmmllmmommmnm ~complaint=jlipluqiklllp ~do=mejlkmmoorjrp
~do-value=mlqlmmmmmkmmm ~few=lmmlonnmllmol ~ing=knllkmmmkmnor ~not=okllpmmmnmlmm ~part=jknlommmlmmrm
~question=hmomjnmrjllqm ~test=mmminmmmmnplm ~the=lllmlrmmnmmmm ~theory=lmlnlmmqmmmlm ~value=nlplkmnlkqmlm
~where=khijknmktqmpp ~whether=immtlmmljlrkm ~who=nmnnlkmlknmlp
"""
